"""Lengths of time and repetitions: "every 3 days", "in 10 days", "for 2 weeks", "until 1 June".

A unit the language file does not know gives no period. What could be meant two ways (a month's
length, "every 3-4 days", "a couple of weeks") carries a doubt beside the best guess.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, time
from types import MappingProxyType
from typing import Final

from bot.reading.days import calendar
from bot.reading.days.grammar import Heard, grammar
from bot.reading.days.meaning import UNIT_DAYS, day_before_now, minutes_on, shifted
from bot.reading.days.moment import Facing, Moment
from bot.reading.days.spans import DaySpan, find_days
from bot.reading.words.scan import Words
from bot.terms.value_object import value_object

#: A month in a rhythm or a pause, where days must be counted (common practice, no source; doubted for that).
MONTH_DAYS: Final = MappingProxyType({"month": 30, "year": 365})
_MINUTES: Final = MappingProxyType({"hour": 60, "minute": 1})
_GAP: Final = re.compile(r"[ ]{0,3}(?:the )?$", re.IGNORECASE)


@value_object()
class Period:
    """A length of time or a repetition, ``text[start:end]``.

    ``kind`` is "every", "in", "for", "until", "since" or "ago"; ``days`` its length or rhythm in days;
    ``day`` the local date it leads to (of "every sunday": the first), ``time`` the wall time where one
    was said. ``doubt`` as in :class:`DaySpan`, with ``options`` and ``part``.
    """

    start: int
    end: int
    kind: str
    days: int | None = None
    day: date | None = None
    time: time | None = None
    doubt: str | None = None
    options: tuple[date, ...] = ()
    rule: str = ""
    part: str | None = None

    @property
    def every_days(self) -> int | None:
        """The rhythm in days, of a repetition."""
        return self.days if self.kind == "every" else None

    @property
    def until(self) -> date | None:
        """The date a stretch that begins today leads to."""
        return self.day if self.kind in {"in", "for", "until"} else None


@value_object()
class _Length:
    """A number of days, or of minutes; ``doubt`` where it is not said for sure."""

    days: int | None = None
    minutes: int | None = None
    doubt: str | None = None


def find_periods(words: Words, moment: Moment, language: str = "en") -> list[Period]:
    """All lengths of time and repetitions of a plain text, sorted, none overlapping.

    Where the moment faces says nothing here: "until" looks ahead and "since" back, whatever is told.
    """
    heard = grammar(language).periods(words)
    if not heard:
        return []
    text = words.text
    days: dict[Facing, list[DaySpan]] = {}
    out: list[Period] = []
    for match in heard:
        if match.rule.means in _WITH_DAY:
            looks: Facing = "future" if match.rule.means == "until" else "past"
            if looks not in days:
                days[looks] = find_days(words, replace(moment, facing=looks), language)
            period = _with_day(match, days[looks], text)
        else:
            period = _MEANINGS[match.rule.means](match, moment)
        if period is not None and (not out or out[-1].end <= period.start):
            out.append(period)
    return out


_WITH_DAY: Final = frozenset({"until", "since"})


def _with_day(heard: Heard, days: Sequence[DaySpan], text: str) -> Period | None:
    """ "until" and "since" take the day that stands right behind them."""
    for span in days:
        if span.start >= heard.end and _GAP.match(text[heard.end : span.start]):
            return Period(
                heard.start,
                span.end,
                heard.rule.means,
                None,
                span.day,
                span.time,
                span.doubt,
                span.options,
                f"{heard.rule.name} + {span.rule}",
            )
    return None


def _length(heard: Heard) -> _Length:
    """How long it is: a number of units, a range or a vague number of them."""
    unit = str(heard.values["unit"])
    said = [int(heard.values[slot]) for slot in ("n", "n2") if slot in heard.values]
    number = said[0] if said else heard.rule.days
    doubt = None if len(said) == 1 or (not said and heard.rule.days) else "vague_length"
    if number is None:
        return _Length(doubt="vague_length")
    if unit in _MINUTES:
        return _Length(minutes=number * _MINUTES[unit], doubt=doubt)
    if unit in MONTH_DAYS:
        return _Length(number * MONTH_DAYS[unit], doubt="month_length")
    return _Length(number * UNIT_DAYS[unit], doubt=doubt)


def _every(heard: Heard, _moment: Moment) -> Period | None:
    length = _length(heard)
    vague = length.doubt is not None and length.minutes is None
    if length.days == 0 or (length.days is None and not vague):
        return None
    return Period(heard.start, heard.end, "every", length.days, doubt=length.doubt, rule=heard.rule.name)


def _every_nth(heard: Heard, _moment: Moment) -> Period | None:
    unit = str(heard.values["unit"])
    if unit not in UNIT_DAYS:
        return None
    days = heard.number("nth") * UNIT_DAYS[unit]
    return Period(heard.start, heard.end, "every", days, rule=heard.rule.name)


def _every_fixed(heard: Heard, _moment: Moment) -> Period:
    days = heard.rule.days or 1
    doubt = "month_length" if days in MONTH_DAYS.values() else None
    return Period(
        heard.start, heard.end, "every", days, doubt=doubt, rule=heard.rule.name, part=_part_of(heard)
    )


def _every_weekday(heard: Heard, moment: Moment) -> Period:
    day = calendar.day_after_today(heard.number("weekday"), moment.today)
    return Period(heard.start, heard.end, "every", 7, day, rule=heard.rule.name, part=_part_of(heard))


def _part_of(heard: Heard) -> str | None:
    said = heard.rule.part or heard.values.get("part")
    return str(said) if said else None


def _ahead(heard: Heard, moment: Moment) -> Period | None:
    length, kind = _length(heard), heard.rule.means
    unit = str(heard.values["unit"])
    if length.minutes is not None:
        then = minutes_on(moment.now, length.minutes)
        return Period(
            heard.start,
            heard.end,
            kind,
            None,
            then.date(),
            then.time().replace(second=0, microsecond=0),
            length.doubt,
            rule=heard.rule.name,
        )
    if length.days is None:
        return Period(heard.start, heard.end, kind, doubt=length.doubt, rule=heard.rule.name)
    day = shifted(moment.today, length.days)
    if unit in MONTH_DAYS and day is not None:
        # a month ahead is the same day of the month, wherever that lands
        months = length.days // MONTH_DAYS[unit] * (12 if unit == "year" else 1)
        day = calendar.months_before(moment.today, -months)
    doubt = None if length.doubt == "month_length" and kind == "in" else length.doubt
    return Period(heard.start, heard.end, kind, length.days, day, None, doubt, rule=heard.rule.name)


def _since_month(heard: Heard, moment: Moment) -> Period:
    first = calendar.latest(heard.number("month"), 1, moment.today)
    return Period(
        heard.start,
        heard.end,
        "since",
        None,
        first,
        None,
        "vague_day",
        (first,) if first else (),
        heard.rule.name,
    )


def _until_month(heard: Heard, moment: Moment) -> Period:
    """ "until September" is until its first day; whether this month or that of next year is asked."""
    month = heard.number("month")
    first = calendar.upcoming(month, 1, moment.today)
    doubt = "vague_day" if month == moment.today.month else None
    options = (first,) if first else ()
    return Period(
        heard.start, heard.end, "until", None, first, None, doubt, options if doubt else (), heard.rule.name
    )


def _until_end_of_month(heard: Heard, moment: Moment) -> Period:
    """ "until the end of June", "until the end of the month": its last day, which may be of this month."""
    today = moment.today
    month = int(heard.values.get("month", today.month))
    year = today.year + (month < today.month)
    last = date(year, month, monthrange(year, month)[1])
    return Period(heard.start, heard.end, "until", None, last, None, None, (), heard.rule.name)


def _back(heard: Heard, moment: Moment) -> Period | None:
    length = _length(heard)
    day = day_before_now(heard.number("n"), str(heard.values["unit"]), moment)
    if day is None:
        return None
    return Period(heard.start, heard.end, "ago", length.days, day, None, length.doubt, rule=heard.rule.name)


_Meaning = Callable[[Heard, Moment], Period | None]

_MEANINGS: Final[Mapping[str, _Meaning]] = MappingProxyType(
    {
        "every": _every,
        "every_nth": _every_nth,
        "every_fixed": _every_fixed,
        "every_weekday": _every_weekday,
        "every_range": _every,
        "in": _ahead,
        "for": _ahead,
        "since_month": _since_month,
        "until_month": _until_month,
        "until_end_of_month": _until_end_of_month,
        "back": _back,
    }
)
