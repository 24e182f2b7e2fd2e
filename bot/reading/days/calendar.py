"""Arithmetic of the calendar: which date is meant where the year, the month or the order is left open.

Dates are proleptic Gregorian as in ISO 8601; weekdays are 0 (Monday) to 6 (Sunday). All functions are
pure: today's date is an argument.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta
from typing import Final

from bot.terms import DateOrder

_WEEK: Final = 7
#: A month with a given day is never further away than this: the 31st is missing at most one month running.
_MONTHS_TO_TRY: Final = 12
_CENTURY: Final = 2000


def date_or_none(year: int, month: int, day: int) -> date | None:
    """The date, or nothing where the calendar has none such (30 February)."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def full_year(year: int) -> int:
    """Two digits are a year from 2000 on."""
    return year + _CENTURY if year < 100 else year


def day_before_today(weekday: int, today: date) -> date:
    """The latest such weekday before today: 1 to 7 days ago."""
    return today - timedelta(days=(today.weekday() - weekday - 1) % _WEEK + 1)


def day_after_today(weekday: int, today: date) -> date:
    """The next such weekday after today: in 1 to 7 days."""
    return today + timedelta(days=(weekday - today.weekday() - 1) % _WEEK + 1)


def in_week(weekday: int, today: date, weeks: int) -> date:
    """The weekday in the ISO week that is ``weeks`` weeks from today's."""
    return today + timedelta(days=weekday - today.weekday() + weeks * _WEEK)


def latest(month: int, day: int, today: date) -> date | None:
    """The latest such day of a year that is not after today; nothing where that year has no such day."""
    year = today.year if (month, day) <= (today.month, today.day) else today.year - 1
    return date_or_none(year, month, day)


def upcoming(month: int, day: int, today: date) -> date | None:
    """The next such day of a year, today among them; nothing where that year has no such day."""
    year = today.year if (month, day) >= (today.month, today.day) else today.year + 1
    return date_or_none(year, month, day)


def latest_of_month(day: int, today: date) -> date | None:
    """The latest such day of a month that is not after today ("the 31st" in March's midst: 31 January)."""
    return next((d for d in _months(day, today, -1) if d <= today), None)


def upcoming_of_month(day: int, today: date) -> date | None:
    """The next such day of a month, today among them."""
    return next((d for d in _months(day, today, 1) if d >= today), None)


def _months(day: int, today: date, step: int) -> list[date]:
    places = [divmod(today.year * 12 + today.month - 1 + step * n, 12) for n in range(_MONTHS_TO_TRY)]
    days = [date_or_none(year, month + 1, day) for year, month in places if 1 <= year <= 9999]
    return [d for d in days if d is not None]


def month_end(day: date) -> date:
    """The last day of a day's month."""
    return day.replace(day=monthrange(day.year, day.month)[1])


def months_before(today: date, months: int) -> date:
    """The same day of a month some months ago, or that month's last day where it is shorter."""
    year, month = divmod(today.year * 12 + today.month - 1 - months, 12)
    first = date(max(year, 1), month + 1, 1)
    return next(d for n in range(4) if (d := date_or_none(first.year, first.month, max(today.day - n, 1))))


def in_order(first: int, second: int, third: int, order: DateOrder) -> tuple[int, int, int]:
    """Year, month and day of three figures: a four-digit one is the year, else the keeper's order says."""
    if first > 99:
        return first, second, third
    if third > 99 or order is not DateOrder.YMD:
        day, month = day_and_month(first, second, order)
        return full_year(third), month, day
    return full_year(first), second, third


def day_and_month(first: int, second: int, order: DateOrder) -> tuple[int, int]:
    """Day and month of two figures in the keeper's order."""
    return (first, second) if order is DateOrder.DMY else (second, first)
