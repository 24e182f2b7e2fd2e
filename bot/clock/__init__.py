"""What happens by the clock: rounds, nudges and delivery."""
