"""What the words of a day mean: one small function for each meaning a rule of the grammar can name.

Each takes what was heard and the moment it is read at, and gives the day, or the doubt about it with
the days to choose from, best guess first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from types import MappingProxyType
from typing import Final

from bot.reading.days import calendar
from bot.reading.days.clock import NIGHT_ENDS, has_begun
from bot.reading.days.grammar import Heard
from bot.reading.days.moment import Moment
from bot.terms import day_at
from bot.terms.value_object import value_object

_DAY: Final = timedelta(days=1)
#: Lengths in days; months and years have none.
UNIT_DAYS: Final = MappingProxyType({"day": 1, "night": 1, "week": 7, "fortnight": 14})
_UNIT_MINUTES: Final = MappingProxyType({"hour": 60, "minute": 1})
_UNIT_MONTHS: Final = MappingProxyType({"month": 1, "year": 12})
#: No keeper looks further back or ahead; what is further is no day (and no date of the calendar is left).
_FARTHEST_DAYS: Final = 20_000


@value_object()
class DayFound:
    """A day, or the doubt about it. ``part`` is a part of the day that was said with it."""

    day: date | None
    doubt: str | None = None
    options: tuple[date, ...] = ()
    part: str | None = None


Meaning = Callable[[Heard, Moment, str | None], DayFound | None]
"""What was heard, when, and the part of the day said beside it: the day, or nothing where it is none."""


def shifted(day: date, days: int) -> date | None:
    """The day so many days on, or nothing beyond what anyone means."""
    return day + timedelta(days=days) if abs(days) <= _FARTHEST_DAYS else None


def day_before_now(number: int, unit: str, moment: Moment) -> date | None:
    """The date a number of units ago; hours and minutes are counted on the absolute clock."""
    if unit in UNIT_DAYS:
        return shifted(moment.today, -number * UNIT_DAYS[unit])
    if unit in _UNIT_MONTHS:
        return calendar.months_before(moment.today, number * _UNIT_MONTHS[unit])
    return day_at(minutes_on(moment.now, -number * _UNIT_MINUTES[unit]), moment.day_starts)


def minutes_on(now: datetime, minutes: int) -> datetime:
    """The wall time so many minutes on, through any change of the clocks."""
    return (now.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(now.tzinfo)


def _offset(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    return DayFound(moment.today + timedelta(days=heard.rule.days or 0))


def _last_night(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    yesterday = moment.today - _DAY
    if heard.rule.which == "either":
        # the night that began yesterday and ended today ("letzte Nacht") has two dates
        return DayFound(yesterday, "two_days_fit", (yesterday, moment.today), "night")
    if moment.runs_over:
        return DayFound(yesterday, "two_days_fit", (yesterday, moment.today), "night")
    if moment.hour < NIGHT_ENDS:
        # in the small hours it may be the night that still lasts, or the one before
        return DayFound(yesterday, "two_days_fit", (yesterday, yesterday - _DAY), "night")
    return DayFound(yesterday, part="night")


def _part_of_today(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    part = str(heard.rule.part or heard.values["part"])
    today, yesterday = moment.today, moment.today - _DAY
    if not moment.past:
        return DayFound(today, part=part)
    if moment.hour < NIGHT_ENDS:
        if part == "morning":
            return DayFound(yesterday, "two_days_fit", (yesterday, today), part)
        return DayFound(yesterday, part=part)
    if not has_begun(part, moment.hour):
        return DayFound(yesterday, "later_than_now", (yesterday, today), part)
    return DayFound(today, part=part)


def _ago(heard: Heard, moment: Moment, _part: str | None) -> DayFound | None:
    unit = str(heard.values["unit"])
    day = day_before_now(heard.number("n"), unit, moment)
    if day is None:
        return None
    return DayFound(day, "vague_day", (day,)) if unit in _UNIT_MONTHS else DayFound(day)


def _ago_range(heard: Heard, moment: Moment, _part: str | None) -> DayFound | None:
    unit = str(heard.values["unit"])
    days = [day_before_now(heard.number(slot), unit, moment) for slot in ("n", "n2")]
    return _among(tuple(d for d in days if d is not None))


def _ago_couple(heard: Heard, moment: Moment, _part: str | None) -> DayFound | None:
    unit = str(heard.values["unit"])
    numbers = (int(heard.values["n"]),) if "n" in heard.values else (2, 3)
    days = [day_before_now(number, unit, moment) for number in numbers]
    return _among(tuple(d for d in days if d is not None), sure=unit in _UNIT_MINUTES)


def _among(days: tuple[date, ...], sure: bool = False) -> DayFound | None:
    """One of some days: asked, unless they are ``sure`` and all the same."""
    options = tuple(dict.fromkeys(days))
    if not options:
        return None
    return DayFound(options[0]) if sure and len(options) == 1 else DayFound(options[0], "vague_day", options)


def _vague(_heard: Heard, _moment: Moment, _part: str | None) -> DayFound:
    return DayFound(None, "vague_day")


def _weekend(_heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    today = moment.today
    if moment.past:
        sunday = today if today.weekday() == 6 else calendar.day_before_today(6, today)
        days = (sunday - _DAY, sunday)
        return DayFound(None, "vague_day", (today,) if today.weekday() == 5 else days)
    saturday = today if today.weekday() == 5 else calendar.day_after_today(5, today)
    return DayFound(saturday, "vague_day", (saturday, saturday + _DAY))


def _next_weekend(_heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    saturday = calendar.in_week(5, moment.today, 1)
    coming = calendar.day_after_today(5, moment.today)
    return DayFound(saturday, "vague_day", tuple(dict.fromkeys((saturday, saturday + _DAY, coming))))


def _next_week(_heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    monday = calendar.in_week(0, moment.today, 1)
    return DayFound(monday, "vague_day", tuple(dict.fromkeys((monday, moment.today + timedelta(days=7)))))


def _next_month(_heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    first = calendar.upcoming_of_month(1, moment.today + _DAY)
    return DayFound(first, "vague_day", (first,) if first else ())


def _within_month(_heard: Heard, _moment: Moment, _part: str | None) -> DayFound:
    return DayFound(None, "vague_day")


def _weekday(heard: Heard, moment: Moment, part: str | None) -> DayFound:
    weekday, which = heard.number("weekday"), str(heard.rule.which)
    if moment.past:
        return _past_weekday(weekday, which, moment, part)
    return _coming_weekday(weekday, which, moment)


def _weekdays_ago(heard: Heard, moment: Moment, _part: str | None) -> DayFound | None:
    """ "three Fridays ago"; the rule's own number is that of "and the Friday before"."""
    weeks = heard.rule.days or heard.number("n")
    if not moment.past or not weeks:
        return None
    last = calendar.day_before_today(heard.number("weekday"), moment.today)
    return DayFound(last - timedelta(days=7 * (weeks - 1)))


def _weekday_ahead(heard: Heard, moment: Moment, _part: str | None) -> DayFound | None:
    """ "remind me to try her sat with a roach": a short weekday that may be a verb, and in a plan is none."""
    return None if moment.past else _coming_weekday(heard.number("weekday"), "bare", moment)


def _past_weekday(weekday: int, which: str, moment: Moment, part: str | None) -> DayFound:
    today = moment.today
    before = calendar.day_before_today(weekday, today)
    if which in {"next", "week_on", "coming"}:
        coming = calendar.day_after_today(weekday, today)
        return DayFound(coming, "future_day", (before,))
    if weekday != today.weekday() or which == "last":
        return DayFound(before)
    if which == "this" or (part in _PARTS_OF_TODAY and has_begun(str(part), moment.hour)):
        return DayFound(today)
    return DayFound(today, "same_weekday", (today, before))


_PARTS_OF_TODAY: Final = frozenset({"morning", "afternoon", "evening", "night"})


def _coming_weekday(weekday: int, which: str, moment: Moment) -> DayFound:
    today = moment.today
    coming = calendar.day_after_today(weekday, today)
    if which == "last":
        before = calendar.day_before_today(weekday, today)
        return DayFound(before, "past_day", (coming,))
    if which == "week_on":
        return DayFound(coming + 7 * _DAY)
    same = weekday == today.weekday()
    if which == "next" and not same:
        later = coming + 7 * _DAY
        guess = calendar.in_week(weekday, today, 1)
        return DayFound(guess, "two_days_fit", (coming, later) if guess == coming else (later, coming))
    if same and which not in {"next", "coming"}:
        return DayFound(coming, "same_weekday", (coming, today))
    return DayFound(coming)


def _weekday_before_the_last(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    before = calendar.day_before_today(heard.number("weekday"), moment.today)
    return DayFound(before - 7 * _DAY)


def _weekday_before_last(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    # "friday last week" is that of the ISO week before; on a Sunday, which week ends is anyone's guess
    weekday = heard.number("weekday")
    day = calendar.in_week(weekday, moment.today, -1)
    before = calendar.day_before_today(weekday, moment.today)
    if day == before and moment.today.weekday() != 6:
        return DayFound(day)
    return DayFound(day, "two_days_fit", tuple(dict.fromkeys((day, before, before - 7 * _DAY))))


def _iso(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    year, month, day = heard.number("year4"), heard.number("num"), heard.number("num2")
    return _dated(calendar.date_or_none(year, month, day), moment)


def _figures(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    if "year4" in heard.values:
        return _iso(heard, moment, None)
    first, second, third = heard.number("num"), heard.number("num2"), heard.number("yy")
    year, month, day = calendar.in_order(first, second, third, moment.order)
    found = _dated(calendar.date_or_none(year, month, day), moment)
    # the other order is offered, never taken unasked
    other = calendar.date_or_none(year, day, month)
    if found.doubt is None or other is None or _beyond(other, moment):
        return found
    return replace(found, options=(other,))


def _day_month(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    day = heard.number("nth" if "nth" in heard.values else "day")
    month = heard.number("month")
    for slot in ("year", "year4", "yy"):
        if slot in heard.values:
            return _dated(calendar.date_or_none(calendar.full_year(heard.number(slot)), month, day), moment)
    return _of_some_year(month, day, moment)


def _two_figures(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    day, month = calendar.day_and_month(heard.number("num"), heard.number("num2"), moment.order)
    found = _of_some_year(month, day, moment)
    if (heard.number("num"), heard.number("num2")) == (24, 7):
        # "24/7" mostly means always
        return DayFound(found.day, "vague_day", (found.day,) if found.day else ())
    if found.doubt is None:
        return found
    other = _of_some_year(day, month, moment)
    return replace(found, options=(other.day,)) if other.day else found


def _feast(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    month, day = map(int, str(heard.rule.which).split("-"))
    return _of_some_year(month, day, moment)


def _of_some_year(month: int, day: int, moment: Moment) -> DayFound:
    found = (calendar.latest if moment.past else calendar.upcoming)(month, day, moment.today)
    return DayFound(found) if found else DayFound(None, "impossible_day")


def _of_month(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    day = heard.number("nth" if "nth" in heard.values else "day")
    if heard.rule.which:  # "of this month", "of last month"
        first = moment.today.replace(day=1)
        month = first if heard.rule.which == "this" else (first - _DAY)
        return _dated(calendar.date_or_none(month.year, month.month, day), moment)
    pick = calendar.latest_of_month if moment.past else calendar.upcoming_of_month
    found = pick(day, moment.today)
    return DayFound(found) if found else DayFound(None, "impossible_day")


def _month_end(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    """ "the last day of January", "… of last month"."""
    if heard.rule.which:
        first = moment.today.replace(day=1)
        return _dated(first - _DAY if heard.rule.which == "last" else calendar.month_end(first), moment)
    ends = [calendar.month_end(date(moment.today.year + n, heard.number("month"), 1)) for n in (-1, 0, 1)]
    if moment.past:
        return DayFound(max(day for day in ends if day <= moment.today))
    return DayFound(min(day for day in ends if day >= moment.today))


def _range_of_days(heard: Heard, moment: Moment, _part: str | None) -> DayFound:
    slots = ("nth", "nth2") if "nth" in heard.values else ("day", "day2")
    if "month" in heard.values:
        found = [_of_some_year(heard.number("month"), heard.number(s), moment).day for s in slots]
    else:
        found = [calendar.latest_of_month(heard.number(s), moment.today) for s in slots]
    return DayFound(None, "vague_day", tuple(dict.fromkeys(d for d in found if d is not None)))


def _dated(day: date | None, moment: Moment) -> DayFound:
    """A full date: it must be one of the calendar, and on the side of now that the message faces."""
    if day is None:
        return DayFound(None, "impossible_day")
    if _beyond(day, moment):
        return DayFound(day, "future_day" if moment.past else "past_day")
    return DayFound(day)


def _beyond(day: date, moment: Moment) -> bool:
    return day > moment.today if moment.past else day < moment.today


MEANINGS: Final[Mapping[str, Meaning]] = MappingProxyType(
    {
        "offset": _offset,
        "last_night": _last_night,
        "part_of_today": _part_of_today,
        "ago": _ago,
        "ago_range": _ago_range,
        "ago_couple": _ago_couple,
        "vague": _vague,
        "weekend": _weekend,
        "next_weekend": _next_weekend,
        "next_week": _next_week,
        "next_month": _next_month,
        "within_month": _within_month,
        "weekday": _weekday,
        "weekdays_ago": _weekdays_ago,
        "weekday_ahead": _weekday_ahead,
        "weekday_before_last": _weekday_before_last,
        "weekday_before_the_last": _weekday_before_the_last,
        "iso": _iso,
        "figures": _figures,
        "day_month": _day_month,
        "two_figures": _two_figures,
        "feast": _feast,
        "of_month": _of_month,
        "month_end": _month_end,
        "range_of_days": _range_of_days,
    }
)

#: Meanings that name a date of the calendar, whichever day it still is for the keeper.
_OF_THE_CALENDAR: Final = frozenset(
    {"weekday", "iso", "figures", "day_month", "two_figures", "feast", "of_month", "month_end"}
)


def day_meant(heard: Heard, moment: Moment, part: str | None) -> DayFound | None:
    """The day that was heard; asked where it is the date on the calendar and the keeper's day lasts on."""
    meaning = MEANINGS[heard.rule.means]
    found = meaning(heard, moment, part)
    if not (moment.past and moment.runs_over) or heard.rule.means not in _OF_THE_CALENDAR or found is None:
        return found
    on_the_wall = meaning(heard, replace(moment, day_starts=time(0)), part)
    if on_the_wall is None or moment.calendar_day not in (on_the_wall.day, *on_the_wall.options):
        return found
    days = (moment.today, *(found.options or (found.day,)))
    options = tuple(dict.fromkeys(day for day in days if day is not None and day <= moment.today))
    return DayFound(moment.today, "day_not_begun", options)
