"""Days, times of day and lengths of time in a keeper's message: the door to the grammar of days.

:func:`find_days` finds days and clock times, :func:`find_periods` what repeats or lasts. Both take a
plain text and an aware ``now`` in the keeper's zone, never raise for any text, and take time linear in
its length.
"""

from bot.reading.days_moment import Facing
from bot.reading.days_periods import Period, find_periods
from bot.reading.days_spans import DaySpan, find_days
from bot.reading.days_words import Strength

__all__ = ["DaySpan", "Facing", "Period", "Strength", "find_days", "find_periods"]
