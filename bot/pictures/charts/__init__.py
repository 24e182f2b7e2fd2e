"""The charts. Importing them imports matplotlib: do so late, and off the loop that answers."""

from bot.pictures.charts.acceptance import acceptance_chart
from bot.pictures.charts.climate import climate_charts
from bot.pictures.charts.life import life_chart
from bot.pictures.charts.meals import meals_chart
from bot.pictures.charts.moisture import moisture_chart
from bot.pictures.charts.molts import intervals_chart
from bot.pictures.charts.shelf import shelf_charts
from bot.pictures.charts.weight import weight_chart

__all__ = [
    "acceptance_chart",
    "climate_charts",
    "intervals_chart",
    "life_chart",
    "meals_chart",
    "moisture_chart",
    "shelf_charts",
    "weight_chart",
]
