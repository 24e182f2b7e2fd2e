"""Repetitions as RFC 5545 recurrence rules over local days: ``FREQ=MONTHLY;BYDAY=1SU``.

A rule says on which days; the wall time and the zone are kept beside it, so that eight o'clock stays
eight o'clock. A day that a month does not have is skipped (§3.3.10: the 31st is no day of April).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Final

#: The weekdays as rules name them, Monday first.
WEEKDAYS: Final = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_DAILY: Final = "FREQ=DAILY;INTERVAL="
#: A rule with no day within so many years has none at all ("30 February").
_FURTHEST: Final = timedelta(days=366 * 9)


def every(days: int) -> str:
    """The rule of every so many days. Raises ``ValueError`` below one."""
    if days < 1:
        raise ValueError("a repetition comes at most once a day")
    return f"{_DAILY}{days}"


def days_of(rule: str) -> int | None:
    """The number of days of a rule that counts days, else ``None``."""
    return int(rule.removeprefix(_DAILY)) if rule.startswith(_DAILY) else None


def parts_of(rule: str) -> dict[str, str]:
    """The parts of a rule by name: ``{"FREQ": "MONTHLY", "BYDAY": "1SU"}``."""
    return dict(part.split("=", 1) for part in rule.split(";"))


def days_after(rule: str, first: date, after: date) -> Iterator[date]:
    """The days of a rule later than ``after``, in order, for some years; the rule begins on ``first``.

    Raises ``ValueError`` for what is no rule.
    """
    from dateutil.rrule import rrulestr  # noqa: PLC0415  a third of the time it takes to start

    steps = days_of(rule)
    if steps is not None and after > first:
        first += (after - first) // timedelta(days=steps) * timedelta(days=steps)  # none of the days gone by
    limit = max(first, after) + _FURTHEST
    found = rrulestr(f"{rule};UNTIL={limit:%Y%m%d}", dtstart=datetime.combine(first, time(0)))
    return (day.date() for day in found.xafter(datetime.combine(after, time(0))))


def next_day(rule: str, first: date, after: date) -> date | None:
    """The first of ``days_after``. ``None``: there is none."""
    return next(days_after(rule, first, after), None)


def first_day(rule: str, not_before: date) -> date | None:
    """The first day of a rule from a day on."""
    return next_day(rule, not_before, not_before - timedelta(days=1))
