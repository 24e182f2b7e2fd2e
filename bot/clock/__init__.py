"""What happens by the clock: rounds, nudges and delivery, and keeping the store safe."""

from bot.clock.clock import Clock
from bot.clock.safekeeping import Safekeeping

__all__ = ["Clock", "Safekeeping"]
