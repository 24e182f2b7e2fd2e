"""Times of day: which wall time words mean, and on which day, by what has already been.

All times are wall times in the keeper's zone. A time that its zone skips or has twice that day is
still the time on the wall that was said.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final

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


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Settled:
    """A day with its wall time, or the doubt about it and the days or times to offer, best guess first."""

    day: date
    time: time | None
    doubt: str | None = None
    options: tuple[date, ...] = ()
    times: Times = ()


def settle_past(clock: Clock, part: str | None, day: date | None, now: datetime) -> Settled | None:
    """When something was that has happened: never later than now. Nothing where there is no such time."""
    times = clock.times(part)
    if not times:
        return None
    if day is not None and part == "night":
        return _of_night(times[0], day, now)
    today, wall = now.date(), now.time()
    if day is not None and day != today:
        # "yesterday at 8" leaves morning and evening open: the day is sure, the time is not
        return Settled(day, times[0] if len(times) == 1 else None)
    gone = [t for t in times if t <= wall]
    if gone:
        return Settled(today, gone[-1])
    return Settled(
        today - _DAY, times[-1], "later_than_now", (today - _DAY,) if day is None else (today - _DAY, today)
    )


def _of_night(wall: time, day: date, now: datetime) -> Settled:
    if wall.hour >= _SMALL_HOURS:
        if day == now.date() and wall > now.time():
            return Settled(day - _DAY, wall, "later_than_now", (day - _DAY, day))
        return Settled(day, wall)
    if wall == time(0):
        return Settled(day, wall, "two_days_fit", (day, day + _DAY))
    if datetime.combine(day + _DAY, wall) > now.replace(tzinfo=None):
        return Settled(day, wall, "later_than_now", (day,))
    return Settled(day + _DAY, wall)


def settle_future(clock: Clock, part: str | None, day: date | None, now: datetime) -> Settled | None:
    """When something is to be: the next such time from now on. Nothing where there is no such time."""
    times = clock.times(part)
    if not times:
        return None
    today, wall = now.date(), now.time()
    if day is not None and day != today:
        return _planned(day, times)
    ahead = [t for t in times if t > wall]
    if ahead:
        return Settled(today, ahead[0])
    if day is None and not _just_gone(times, now):
        return _planned(today + _DAY, times)
    return Settled(today, times[-1], "earlier_than_now", (today + _DAY,))


def _just_gone(times: tuple[time, ...], now: datetime) -> bool:
    """Whether the one time that is meant passed so lately that today may be meant."""
    gone = datetime.combine(now.date(), times[-1])
    return len(times) == 1 and now.replace(tzinfo=None) - gone < _JUST_GONE


def _planned(day: date, times: tuple[time, ...]) -> Settled:
    """Of two halves of the day, the one in which people plan things; asked where it may be either."""
    if len(times) > 1 and times[0].hour in _EITHER_HALF:
        return Settled(day, None, "which_half", (day,), times)
    return Settled(day, times[0] if len(times) == 1 or times[0].hour >= _FIRST_MORNING_HOUR else times[-1])


def has_begun(part: str, now: datetime) -> bool:
    """Whether a part of today has come."""
    return now.hour >= BEGINS[part]
