"""The computations: facts in, figures out. Pure."""
