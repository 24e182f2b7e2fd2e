"""How many feeders of what size and kind, in whatever order they are told."""
