"""The stretch of time that a question is about: "in October", "since March", "this week", "in 2025"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any, Final, NamedTuple

from bot.reading.days.words import days_data
from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import ShelfNames
from bot.terms import KeeperSettings
from bot.terms.data_file import data_of

_YEAR: Final = re.compile(r"(?<!\d)(?:19|20)\d\d(?!\d)")
#: Words that only lead to the stretch: "and in May", "what about last week".
_SMALL: Final = frozenset({"and", "fill", "on", "for", "ask"})
_WORD: Final = re.compile(r"[^\W\d_]+")


class Stretch(NamedTuple):
    """Local days, both inclusive."""

    first: date
    last: date


def stretch_in(items: Sequence[Item], language: str, today: date) -> Stretch | None:
    """The stretch that the words of a question name; none that lies ahead, none that is a guess."""
    return next(_stretches(items, language, today), None)


def stretch_ahead(items: Sequence[Item], language: str, today: date) -> Stretch | None:
    """The days to come that the words of a question name: "tomorrow", "next week", "in the next 3 days".

    The items must have been read facing the future.
    """
    for item in items:
        found = None
        if item.cat == "D":
            found = _named(item.text, language, today) or _of_day(item)
        elif item.cat == "P" and item.val.kind in {"for", "in"} and item.val.days:
            found = Stretch(today, today + timedelta(days=item.val.days))
        if found is not None and found.last > today:
            return Stretch(max(found.first, today), found.last)
    return None


def is_named(words: str, language: str) -> bool:
    """Whether words only name a whole week, month or year: "this week", "May 2025", "2025"."""
    said = words.lower().strip()
    alone = _YEAR.sub("", said).strip()
    return said in _phrases(language) or alone in _months(language) or (bool(said) and not alone)


def named_ahead(words: str, language: str, today: date) -> Stretch | None:
    """The whole week or month that the words are ("next week", "August"), from today on; else ``None``."""
    said = words.lower()
    alone = _YEAR.sub("", said).strip()
    if said not in _phrases(language) and alone not in _months(language):
        return None
    found = _named(said, language, today)
    if found is not None and found.last < today and not _YEAR.search(said):
        found = _month(found.first.year + 1, found.first.month)  # a month alone is the last one there was
    return None if found is None or found.last < today else Stretch(max(found.first, today), found.last)


def stretch_alone(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings, ahead: bool = False
) -> Stretch | None:
    """The stretch that is all a message says: "and since March?", "last week?"; ``ahead`` "tomorrow?"."""
    message = Message(text, names, now, settings, None)
    items = message.items([range(len(message.tokens))], "future" if ahead else "past")
    said = [item for item in items if item.cat != "M" and not _SMALL & set(item.senses)]
    alone = said and all(item.cat in {"D", "P"} or _YEAR.fullmatch(item.text) for item in said)
    named = stretch_ahead if ahead else stretch_in
    return named(items, settings.language, message.today) if alone else None


def stretch_meant(
    words: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings
) -> Stretch | None:
    """The stretch that words mean which say it barely, "March 2021", "2019", or with what leads to it."""
    tried = (lead.format(words) for lead in _data(settings.language)["leads"])
    return next(
        filter(None, (stretch_alone(said, names, now=now, settings=settings) for said in tried)), None
    )


def _stretches(items: Sequence[Item], language: str, today: date) -> Iterator[Stretch]:
    for place, item in enumerate(items):
        found = None
        if item.cat == "D":
            found = _named(item.text, language, today) or _of_day(item)
        elif item.cat == "P":
            found = _of_period(item, today)
        elif item.cat == "N" and _YEAR.fullmatch(item.text) and place:
            found = _year(int(item.text))
        if found is not None and found.first > today and found == _weekend_of(today, 0):
            found = _weekend_of(today, 1)  # "what did they eat at the weekend", asked in the week
        if found is not None and found.first <= today:
            yield Stretch(found.first, min(found.last, today))


def _of_day(item: Item) -> Stretch | None:
    span = item.val
    return Stretch(span.day, span.day) if span.day is not None and not span.doubt else None


def _of_period(item: Item, today: date) -> Stretch | None:
    period = item.val
    if period.kind == "since" and period.day is not None:
        return Stretch(period.day, today)
    if period.kind == "for" and period.days:
        return Stretch(today - timedelta(days=period.days), today)
    return None


# -- whole weeks, months and years ----------------------------------------------------------------


def _named(words: str, language: str, today: date) -> Stretch | None:
    for phrase, (unit, back) in _phrases(language).items():
        if phrase in words:
            return _UNITS[unit](today, back)
    month = next((_months(language)[w] for w in _WORD.findall(words) if w in _months(language)), None)
    if month is None or any(c.isdigit() for c in _YEAR.sub("", words)):
        return None
    said = _YEAR.search(words)
    year = int(said.group()) if said else today.year - (month > today.month)
    return _month(year, month)


_BACK: Final[Mapping[str, int]] = {"this": 0, "last": 1, "next": -1}


def _data(language: str) -> Mapping[str, Any]:
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, "stretches.yaml")
    return found


@cache
def _phrases(language: str) -> Mapping[str, tuple[str, int]]:
    """Each phrase with its unit and how many of these ago, the longest first: "last weekend", "last week"."""
    data = _data(language)
    said = [
        (phrase, (unit, back))
        for unit, phrases in ((unit, data[unit]) for unit in _UNITS)
        for which, back in _BACK.items()
        for phrase in phrases.get(which, ())
    ]
    return dict(sorted(said, key=lambda one: -len(one[0])))


@cache
def _months(language: str) -> Mapping[str, int]:
    names = days_data(language).words["month"]
    return {word.rstrip("."): int(number) for number, words in names.items() for word in words}


def _week_of(today: date, back: int) -> Stretch:
    monday = today - timedelta(days=today.weekday() + 7 * back)
    return Stretch(monday, monday + timedelta(days=6))


def _month_of(today: date, back: int) -> Stretch:
    year, month = divmod(today.year * 12 + today.month - 1 - back, 12)
    return _month(year, month + 1)


def _month(year: int, month: int) -> Stretch:
    following = date(year + month // 12, month % 12 + 1, 1)
    return Stretch(date(year, month, 1), following - timedelta(days=1))


def _year(year: int) -> Stretch:
    return Stretch(date(year, 1, 1), date(year, 12, 31))


def _weekend_of(today: date, back: int) -> Stretch:
    monday, sunday = _week_of(today, back)
    return Stretch(monday + timedelta(days=5), sunday)


_UNITS: Final[Mapping[str, Callable[[date, int], Stretch]]] = {
    "week": _week_of,
    "weekend": _weekend_of,
    "month": _month_of,
    "year": lambda today, back: _year(today.year - back),
}
