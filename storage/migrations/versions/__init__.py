"""The steps themselves."""
