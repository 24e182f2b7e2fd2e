"""Clauses woven together: what one leaves out, it takes from its neighbours or from a heading."""
