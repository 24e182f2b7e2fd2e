"""What the keeper wants to know."""
