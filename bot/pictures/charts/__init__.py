"""The charts. Importing them imports matplotlib: do so late, and off the loop that answers."""

from bot.pictures.charts.life import life_chart
from bot.pictures.charts.shelf import shelf_charts

__all__ = ["life_chart", "shelf_charts"]
