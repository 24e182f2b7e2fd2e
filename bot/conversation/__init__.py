"""Message in, replies out, for any front end: log, ask, answer, amend, remind, hand over."""
