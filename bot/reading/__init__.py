"""Text in, reading out. Pure: it knows words, dates, amounts and the names of a shelf."""
