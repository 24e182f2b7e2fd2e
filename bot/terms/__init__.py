"""The words of the trade as value objects, shared by every room.

Nothing here reads a clock, a store or the network, and nothing here imports another room.
"""

from bot.terms.entry import FIELDS_OF, Entry, Kind, PreySize, SacEvent, WaterHow
from bot.terms.keeper import ALL_WEEK, DateOrder, KeeperSettings, Units, day_at, local_day
from bot.terms.specimen import Habit, Sex, Specimen, Stage

__all__ = [
    "ALL_WEEK",
    "FIELDS_OF",
    "DateOrder",
    "Entry",
    "Habit",
    "KeeperSettings",
    "Kind",
    "PreySize",
    "SacEvent",
    "Sex",
    "Specimen",
    "Stage",
    "Units",
    "WaterHow",
    "day_at",
    "local_day",
]
