"""How an animal grows: its size by all that was measured, at each molt to come, and until it is grown."""

from bot.husbandry.growth.maturity import Maturity, maturity_of
from bot.husbandry.growth.outlook import Growth, growths, spans_after

__all__ = ["Growth", "Maturity", "growths", "maturity_of", "spans_after"]
