"""Times of day: which wall time words mean, and on which day, by what has already been.

All times are wall times in the keeper's zone. A time that its zone skips or has twice that day is
still the time on the wall that was said.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Final

from bot.reading.days.moment import Moment
from bot.terms.value_object import value_object

Times = tuple[time, ...]

_NOON: Final = 12
_DAY: Final = timedelta(days=1)
#: Until this hour a night belongs to the evening before (the reading contract).
NIGHT_ENDS: Final = 4
_SMALL_HOURS: Final = 5
#: Hours at which a part of the day begins, with room for those who say it early (common practice, no source).
BEGINS: Final = {"morning": 0, "afternoon": 11, "evening": 15, "night": 15}
#: In a plan for another day a bare hour from this one on is of the morning (common practice, no source) …
_FIRST_MORNING_HOUR: Final = 7
#: … one of these may be of either half and is asked about, one below is of the afternoon.
_EITHER_HALF: Final = frozenset({5, 6})
#: A time that passed less long ago than this is asked about (common practice, no source).
_JUST_GONE: Final = timedelta(hours=1)


@value_object()
class Clock:
    """A clock time as said: ``half`` is "am" or "pm" where it was; ``full`` for the 24-hour clock."""

    hour: int
    minute: int
    half: str | None = None
    full: bool = False

    def times(self, part: str | None) -> tuple[time, ...]:
        """The wall times it may mean, earliest first; none where there is no such time."""
        if self.hour > 24 or self.minute > 59 or (self.hour == 24 and self.minute):
            return ()
        if self.half and not 1 <= self.hour <= _NOON:
            # "19:30 pm" says the same thing twice; "0:30 pm" says nothing
            return (time(self.hour, self.minute),) if self.half == "pm" and _NOON < self.hour < 24 else ()
        if self.half or not self._is_open():
            return (time(self._in_half(self.half) if self.half else self.hour % 24, self.minute),)
        half = self._half_by(part)
        halves = (half,) if half else ("am", "pm")
        return tuple(time(self._in_half(h), self.minute) for h in halves)

    def _is_open(self) -> bool:
        return not self.full and 1 <= self.hour <= _NOON

    def _in_half(self, half: str) -> int:
        return self.hour % _NOON + (_NOON if half == "pm" else 0)

    def _half_by(self, part: str | None) -> str | None:
        if part == "night":
            return "pm" if 6 <= self.hour < _NOON else "am"
        if part is None:
            return "pm" if self.hour == _NOON else None
        return "am" if part == "morning" else "pm"


@value_object()
class Settled:
    """A day with its wall time, or the doubt about it and the days or times to offer, best guess first."""

    day: date
    time: time | None
    doubt: str | None = None
    options: tuple[date, ...] = ()
    times: Times = ()


def settle_past(clock: Clock, part: str | None, day: date | None, moment: Moment) -> Settled | None:
    """When something was that has happened: never later than now. Nothing where there is no such time.

    ``day`` and the day found are the keeper's; a time after midnight that belongs to the day before is left
    out, as the date on the calendar is another.
    """
    times = clock.times(part)
    if not times:
        return None
    settled = _past(times, part, day, moment)
    late = settled.time is not None and moment.after_midnight(settled.time)
    return replace(settled, time=None) if late else settled


def _past(times: Times, part: str | None, day: date | None, moment: Moment) -> Settled:
    if day is not None and part == "night":
        return _of_night(times[0], day, moment)
    today, yesterday = moment.today, moment.today - _DAY
    late = len(times) == 1 and moment.after_midnight(times[0])
    if late and day is not None and not (moment.runs_over and day == today):
        # "yesterday at 1am": the night that yesterday ended with, or the one it began in?
        return Settled(day, times[0], "two_days_fit", (day, day - _DAY))
    if day is not None and day != today:
        # "yesterday at 8" leaves morning and evening open: the day is sure, the time is not
        return Settled(day, times[0] if len(times) == 1 else None)
    now = moment.order_of(moment.now.time())
    gone = [t for t in times if moment.order_of(t) <= now]
    if gone:
        return Settled(today, max(gone, key=moment.order_of))
    if late and times[0] <= moment.now.time():
        return Settled(yesterday, times[0])  # told by day: the small hours ended the day before
    return Settled(
        yesterday, times[-1], "later_than_now", (yesterday,) if day is None else (yesterday, today)
    )


def _of_night(wall: time, day: date, moment: Moment) -> Settled:
    if wall.hour >= _SMALL_HOURS and not moment.after_midnight(wall):
        if day == moment.today and moment.order_of(wall) > moment.order_of(moment.now.time()):
            return Settled(day - _DAY, wall, "later_than_now", (day - _DAY, day))
        return Settled(day, wall)
    if wall == time(0) and not moment.after_midnight(wall):
        return Settled(day, wall, "two_days_fit", (day, day + _DAY))
    if datetime.combine(day + _DAY, wall) > moment.now.replace(tzinfo=None):
        return Settled(day, wall, "later_than_now", (day,))
    return Settled(day if moment.after_midnight(wall) else day + _DAY, wall)


def settle_future(clock: Clock, part: str | None, day: date | None, moment: Moment) -> Settled | None:
    """When something is to be: the next such time from now on. Nothing where there is no such time.

    ``day`` is the keeper's, the day found that of the calendar, with its wall time.
    """
    times = clock.times(part)
    if not times:
        return None
    late = len(times) == 1 and moment.after_midnight(times[0])
    if late and day is not None:
        return _late_in_the_night(times[0], part, day, moment)
    today, wall = moment.calendar_day, moment.now.time()
    if day is not None and day != today:
        if day == moment.today:  # it lasts on past midnight
            ahead = [t for t in times if wall < t < moment.day_starts]
            if ahead:
                return Settled(today, ahead[0])
            return Settled(day, times[-1], "earlier_than_now", (today,))
        return _planned(day, times)
    ahead = [t for t in times if t > wall]
    if ahead:
        return Settled(today, ahead[0])
    if day is None and not _just_gone(times, moment):
        return _planned(today + _DAY, times)
    return Settled(today, times[-1], "earlier_than_now", (today + _DAY,))


def _late_in_the_night(wall: time, part: str | None, day: date, moment: Moment) -> Settled:
    """ "tomorrow at 2am" where a day lasts until four: the night it ends with, or the one it begins in?"""
    ends = day + _DAY
    if part == "night" or day == moment.today:
        gone = datetime.combine(ends, wall) <= moment.now.replace(tzinfo=None)
        return Settled(ends, wall, "earlier_than_now", (ends + _DAY,)) if gone else Settled(ends, wall)
    return Settled(day, wall, "two_days_fit", (day, ends))


def _just_gone(times: tuple[time, ...], moment: Moment) -> bool:
    """Whether the one time that is meant passed so lately that today may be meant."""
    gone = datetime.combine(moment.calendar_day, times[-1])
    return len(times) == 1 and moment.now.replace(tzinfo=None) - gone < _JUST_GONE


def _planned(day: date, times: tuple[time, ...]) -> Settled:
    """Of two halves of the day, the one in which people plan things; asked where it may be either."""
    if len(times) > 1 and times[0].hour in _EITHER_HALF:
        return Settled(day, None, "which_half", (day,), times)
    return Settled(day, times[0] if len(times) == 1 or times[0].hour >= _FIRST_MORNING_HOUR else times[-1])


def has_begun(part: str, hour: int) -> bool:
    """Whether a part of today has come at an hour of it."""
    return hour >= BEGINS[part]
