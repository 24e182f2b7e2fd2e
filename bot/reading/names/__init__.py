"""The names of a shelf and of the trade: whatever an animal, a species or a place may be called."""
