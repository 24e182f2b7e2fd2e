"""Days, times of day and lengths of time in a keeper's message: the door to the grammar of days.

:func:`find_days` finds days and clock times, :func:`find_periods` what repeats or lasts. Both take a
plain text and the :class:`Moment` it is read at, never raise for any text, and take time linear in its
length.
"""

from bot.reading.days.moment import Facing, Moment
from bot.reading.days.periods import Period, find_periods
from bot.reading.days.spans import DaySpan, find_days
from bot.reading.days.words import Strength

__all__ = ["DaySpan", "Facing", "Moment", "Period", "Strength", "find_days", "find_periods"]
