"""Days and times of day in a keeper's message.

A grammar finds the words (:mod:`bot.reading.days.grammar`); here neighbours are joined ("half nine"
"last night"), and each group becomes one span with its day, or with the doubt about it:

- What happened is never later than now; what is planned is never earlier.
- A weekday is the latest such day before today; on that weekday itself it is asked about, unless the
  message says "last", "this" or a part of the day that has come.
- Between midnight and four, "tonight" and "this evening" are the evening just gone.
- Days are the keeper's: where theirs lasts until four, it is still the day before at half past one. A clock
  time to come is on the date of the calendar, at which a reminder goes off.
- A date the calendar does not have, or one on the wrong side of now, is a doubt, never another date.
- A bare hour is the nearest one that has been (or is to come); beside another day than today its
  half of the day is open, and the time is left out.

Doubts: ``future_day``, ``past_day``, ``impossible_day``, ``same_weekday``, ``vague_day``,
``two_days_fit``, ``day_not_begun``, ``later_than_now``, ``earlier_than_now``, ``weekday_differs``,
``which_half``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from typing import Final

from bot.reading.days.clock import Clock, Settled, Times, has_begun, settle_future, settle_past
from bot.reading.days.grammar import Grammar, Heard, grammar
from bot.reading.days.meaning import DayFound, day_meant
from bot.reading.days.moment import Moment
from bot.reading.days.words import Strength
from bot.reading.words.scan import Words
from bot.terms.value_object import value_object

__all__ = ["DaySpan", "find_days"]

_DAY: Final = timedelta(days=1)
_FIGURE_RULES: Final = frozenset({"two_figures"})


@value_object()
class DaySpan:
    """A day or time found in a text, ``text[start:end]``.

    ``day`` is the local date; with a ``doubt`` it is only the best guess (``None`` where there is
    none) and ``options`` are the dates to offer, best guess first. ``time`` is a wall time, given only
    where a clock time was said; ``times`` are those to offer where its half of the day is in doubt. The
    day is ``implied`` where only a time or a part of the day was said. ``strength`` tells how surely the
    words are a day at all, ``rule`` how they were taken, ``part`` the part of the day that was said.
    """

    start: int
    end: int
    day: date | None
    time: time | None = None
    doubt: str | None = None
    options: tuple[date, ...] = ()
    strength: Strength = Strength.CERTAIN
    rule: str = ""
    times: Times = ()
    implied: bool = False
    part: str | None = None

    def may_be(self) -> tuple[date, ...]:
        """The dates that may be meant: the one, and where it is in doubt those to offer."""
        days = (self.day, *self.options) if self.doubt else (self.day,)
        return tuple(day for day in days if day is not None)


def find_days(words: Words, moment: Moment, language: str = "en") -> list[DaySpan]:
    """Days and times of a plain text, sorted, none overlapping."""
    rules = grammar(language)
    heard = rules.moments(words)
    if not heard:
        return []
    text = words.text
    groups = _groups(heard, text, rules)
    spans = [span for group in groups if (span := _span(group, text, moment)) is not None]
    return _two_days_said(spans, text, rules)


def _groups(heard: Sequence[Heard], text: str, rules: Grammar) -> list[list[Heard]]:
    """Neighbours that speak of one moment together."""
    out: list[list[Heard]] = []
    for part in heard:
        if out and rules.glue.match(text[out[-1][-1].end : part.start]) and _go_together(out[-1], part):
            out[-1].append(part)
        else:
            out.append([part])
    return [group for group in out if any(part.rule.alone for part in group)]


def _go_together(group: Sequence[Heard], part: Heard) -> bool:
    kinds = [p.rule.kind for p in group]
    if part.rule.kind == "day" and "day" in kinds:
        return _names_weekday(group) != (part.rule.means == "weekday") and _is_dated([*group, part])
    if part.rule.kind == "part" and (_part_of(group) or (not part.rule.alone and kinds == ["clock"])):
        return False
    return part.rule.kind == "day" or part.rule.kind not in kinds


def _names_weekday(group: Sequence[Heard]) -> bool:
    return any(p.rule.means == "weekday" for p in group)


_DATED: Final = frozenset({"day_month", "iso", "figures", "two_figures", "of_month", "offset"})


def _is_dated(group: Sequence[Heard]) -> bool:
    days = [p for p in group if p.rule.kind == "day"]
    return len(days) == 2 and any(p.rule.means in _DATED for p in days)


def _span(group: Sequence[Heard], text: str, moment: Moment) -> DaySpan | None:
    part = _part_of(group)
    found = _day_of(group, part, moment)
    clock = next((clock_of(p, text) for p in group if p.rule.kind == "clock"), None)
    has_day = any(p.rule.kind == "day" for p in group)
    if has_day and found is None:
        return None
    said = found if found is not None else DayFound(None)
    part = said.part or part
    settled = _settle(said, clock, part, moment, has_day)
    if settled is None:
        return None
    rule = " + ".join(p.rule.name for p in group)
    span = DaySpan(
        group[0].start,
        group[-1].end,
        settled.day,
        settled.time,
        settled.doubt,
        settled.options,
        _strength(group, text),
        rule,
        settled.times,
        implied=not has_day,
        part=part,
    )
    return _on_the_right_side(span, moment)


def _part_of(group: Sequence[Heard]) -> str | None:
    for part in group:
        said = part.rule.part if part.rule.part is not None else part.values.get("part")
        if said is not None:
            return None if said == "noonish" else str(said)
    return None


def _day_of(group: Sequence[Heard], part: str | None, moment: Moment) -> DayFound | None:
    days = [p for p in group if p.rule.kind == "day"]
    if not days:
        return None
    found = [day_meant(p, moment, part) for p in days]
    if len(days) == 1:
        return found[0]
    dated = next((f for p, f in zip(days, found, strict=True) if p.rule.means != "weekday"), None)
    weekday = next(p.number("weekday") for p in days if p.rule.means == "weekday")
    if dated is None or dated.day is None or dated.day.weekday() == weekday:
        return dated
    named = next(f for p, f in zip(days, found, strict=True) if p.rule.means == "weekday")
    options = tuple(d for d in (dated.day, named.day if named else None) if d is not None)
    return DayFound(dated.day, dated.doubt or "weekday_differs", tuple(dict.fromkeys(options)))


@value_object()
class _Moment:
    day: date | None
    time: time | None
    doubt: str | None
    options: tuple[date, ...]
    times: Times = ()


def _settle(
    said: DayFound, clock: Clock | None, part: str | None, moment: Moment, has_day: bool
) -> _Moment | None:
    """The day with its time. A doubt about the day stays, and the time is kept where it is sure."""
    if clock is None:
        return _without_clock(said, part, moment, has_day)
    if said.doubt is not None:
        times = clock.times(part)
        return _Moment(said.day, times[0] if len(times) == 1 else None, said.doubt, said.options)
    settle = settle_past if moment.past else settle_future
    settled: Settled | None = settle(clock, part, said.day, moment)
    if settled is None:
        return None
    return _Moment(settled.day, settled.time, settled.doubt, settled.options, settled.times)


def _without_clock(said: DayFound, part: str | None, moment: Moment, has_day: bool) -> _Moment:
    if has_day:
        return _Moment(said.day, None, said.doubt, said.options)
    today = moment.today
    if moment.past and part is not None and not has_begun(part, moment.hour):
        return _Moment(today - _DAY, None, "later_than_now", (today - _DAY, today))
    if not moment.past and part == "morning":
        return _Moment(today + _DAY, None, None, ())
    return _Moment(today, None, None, ())


def _on_the_right_side(span: DaySpan, moment: Moment) -> DaySpan:
    if span.day is None or span.doubt is not None:
        return span
    if moment.past and span.day > moment.today:
        return replace(span, doubt="future_day")
    if not moment.past and span.day < moment.today:
        return replace(span, doubt="past_day")
    return span


#: "06:59": an hour with a nought before it is of the 24-hour clock (ISO 8601).
_NOUGHT: Final = re.compile(r"(?<!\d)0\d[:.h]\d\d")


def clock_of(heard: Heard, text: str) -> Clock:
    """The clock time of a clock rule's match in a text."""
    values, means = heard.values, heard.rule.means
    if means == "clock_fixed":
        return Clock(heard.rule.days or 0, 0, full=True)
    if means == "clock_beside":
        return _beside(heard)
    figures = next((name for name in ("hhmm", "noughted") if name in values), None)
    if figures is not None:
        hour, minute = divmod(heard.number(figures), 100)
        return Clock(hour, minute, full=True)
    hour = int(values["hour"] if "hour" in values else values["count"])
    if means == "clock_past":
        return _counted_from(hour, heard.rule.days or 0)
    if means == "clock_minutes":
        past = heard.number("n")
        return _counted_from(hour, past if heard.rule.which == "past" else -past)
    half = values.get("ampm")
    nought = _NOUGHT.search(text, heard.start, heard.end) is not None
    full = half is None and (hour > 12 or hour == 0 or nought or _on_24_hours(heard))
    return Clock(hour, int(values.get("minute", 0)), str(half) if half else None, full)


def _beside(heard: Heard) -> Clock:
    """ "ten to midnight", "quarter past noon": minutes from an hour that its rule names."""
    minutes = heard.number("n") if "n" in heard.values else _QUARTER
    total = (heard.rule.days or 0) * 60 + (minutes if heard.rule.which == "past" else -minutes)
    hour, minute = divmod(total % (24 * 60), 60)
    return Clock(hour, minute, full=True)


_QUARTER: Final = 15


def _on_24_hours(heard: Heard) -> bool:
    half_past_twelve = "minute" in heard.values and heard.number("hour") == 12
    return heard.rule.which == "24" or half_past_twelve


def _counted_from(hour: int, minutes: int) -> Clock:
    """Minutes past or to an hour."""
    total = hour * 60 + minutes
    on_the_hour, minute = divmod(total, 60)
    if hour <= 12 and on_the_hour == 0:
        on_the_hour = 12
    return Clock(on_the_hour, minute, full=on_the_hour > 12)


def _strength(group: Sequence[Heard], text: str) -> Strength:
    if len(group) > 1:
        return Strength.CERTAIN if len(group) > 1 and _sure_together(group) else Strength.LIKELY
    only = group[0]
    if only.owns:
        return Strength.CERTAIN
    if only.rule.means in _FIGURE_RULES:
        return _strength_of_figures(only, text)
    return only.rule.strength


def _sure_together(group: Sequence[Heard]) -> bool:
    return any(p.rule.kind == "day" for p in group) or any(p.rule.strength is Strength.CERTAIN for p in group)


#: Figures that keepers write as fractions: halves, thirds, quarters, eighths of an inch or of a cricket.
_FRACTIONS: Final = frozenset({(1, 2), (1, 3), (2, 3), (1, 4), (3, 4), (1, 8), (3, 8), (5, 8), (7, 8)})
_OPENS: Final = frozenset("\n([*•")


def _strength_of_figures(heard: Heard, text: str) -> Strength:
    if heard.rule.strength is Strength.CERTAIN:
        return Strength.CERTAIN
    before = text[: heard.start].rstrip(" ")
    first, second = heard.number("num"), heard.number("num2")
    if not before or before[-1] in _OPENS:
        return Strength.CERTAIN
    if (first, second) in _FRACTIONS:
        return Strength.WEAK
    return Strength.LIKELY


def _two_days_said(spans: list[DaySpan], text: str, rules: Grammar) -> list[DaySpan]:
    """ "Friday or Saturday" is one span with a doubt."""
    out: list[DaySpan] = []
    for span in spans:
        if out and rules.either.match(text[out[-1].end : span.start]):
            first = out.pop()
            both = (*(first.options or (first.day,)), *(span.options or (span.day,)))
            options = tuple(dict.fromkeys(d for d in both if d is not None))
            rule, strength = f"{first.rule} or {span.rule}", max(first.strength, span.strength)
            guess = options[0] if options else None
            out.append(
                DaySpan(first.start, span.end, guess, None, "two_days_fit", options, strength, rule),
            )
        else:
            out.append(span)
    return out
