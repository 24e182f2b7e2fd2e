"""Who is due for what today, and who rests and why. Pure."""
