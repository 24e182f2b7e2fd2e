"""What an operator can see of a running bot: figures for Prometheus, and whether it is alive and ready."""

from bot.watch.figures import Figures
from bot.watch.page import Health, WatchPage

__all__ = ["Figures", "Health", "WatchPage"]
