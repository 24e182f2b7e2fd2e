"""What happens by the clock: rounds, nudges and delivery."""

from bot.clock.clock import Clock

__all__ = ["Clock"]
