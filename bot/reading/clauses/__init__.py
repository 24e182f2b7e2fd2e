"""Clauses of a message, and the frame of each: what it says by itself, and of its neighbours."""
