"""Where a calendar axis has its lines, and what stands there. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import takewhile
from typing import Final

from bot.pictures.measures import month, short_day
from bot.terms import DateOrder

_WEEK_STEPS: Final = (1, 2, 4)
_MONTH_STEPS: Final = (1, 2, 3, 6, 12, 24, 60, 120, 240, 600)
_LONGEST_IN_WEEKS: Final = 75
"""Days up to which weeks are told apart rather than months."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A day with a line: the name under it, and the year where it is to be told."""

    on: date
    name: str
    year: str = ""


def calendar_ticks(first: date, last: date, room: int, order: DateOrder) -> list[Tick]:
    """Starts of weeks or months from ``first`` to ``last``, at most ``room`` of them where that can be.

    The year stands at the first line and wherever it changes.
    """
    weekly = (last - first).days <= _LONGEST_IN_WEEKS
    tries = (
        [list(_weeks(first, last, step)) for step in _WEEK_STEPS]
        if weekly
        else [list(_months(first, last, step)) for step in _MONTH_STEPS]
    )
    days = next((days for days in tries if len(days) <= max(2, room)), tries[-1])
    ticks: list[Tick] = []
    for day in days:
        told = bool(ticks) and ticks[-1].on.year == day.year
        name = short_day(day, order) if weekly else month(day)
        ticks.append(Tick(day, name, "" if told else str(day.year)))
    return ticks


def _weeks(first: date, last: date, step: int) -> Iterator[date]:
    monday = first + timedelta(days=-first.weekday() % 7)
    count = (last - monday).days // 7 + 1
    return (monday + timedelta(weeks=n) for n in range(0, count, step))


def _months(first: date, last: date, step: int) -> Iterator[date]:
    start = first.year * 12 + first.month - 1 + (first.day > 1)
    start += -start % step
    numbers = range(start, last.year * 12 + last.month, step)
    days = (date(number // 12, number % 12 + 1, 1) for number in numbers if number < date.max.year * 12)
    return takewhile(lambda day: day <= last, days)
