"""The same conversation at a keyboard."""
