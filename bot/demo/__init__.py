"""The demo shelf: an invented keeper, their animals, and a year and a half of made-up entries."""
