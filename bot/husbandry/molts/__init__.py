"""The molt cycle: when each animal will molt, and whether it is in premolt now."""

from bot.husbandry.molts.outlook import PROBABILITIES, Outlook, outlooks

__all__ = ["PROBABILITIES", "Outlook", "outlooks"]
