"""The conversation at a keyboard: a prompt with history, or one message a line from a pipe."""
