"""Lengths of time that stand alone: "gone 3 weeks without food", "a month", "over a fortnight"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import pairwise
from typing import Final

from bot.reading.days.meaning import UNIT_DAYS
from bot.reading.days.periods import MONTH_DAYS
from bot.reading.days.words import days_data
from bot.reading.items.item import Item

#: Days of a unit; of months and years as where the grammar of periods counts them.
_UNIT_DAYS: Final = {**UNIT_DAYS, **MONTH_DAYS}
#: A length that needs no number: "in the past fortnight".
_ONE_ALONE: Final = "fortnight"


def length_in(items: Sequence[Item], language: str = "en") -> int | None:
    """The first length of time among the items, in days; ``None`` where none is said for sure."""
    if any(item.text == _ONE_ALONE for item in items):
        return _UNIT_DAYS[_ONE_ALONE]
    units = _units(language)
    said_of = [i for i in items if "fill" not in i.senses or i.text.split()[0] in units]  # "a full month"
    for number, unit in pairwise(said_of):
        days = units.get(unit.text.split()[0]) if unit.cat in "WU" else None
        said = _number(number, language)
        if days is not None and said is not None:
            return said * days
    return None


def _number(item: Item, language: str) -> int | None:
    if item.cat == "N":
        value = item.val.value
        whole = value is not None and item.val.high is None and value == int(value)  # "30+ days"
        return int(value) if whole else None
    return _counted(language).get(item.text) if item.cat == "W" else None


@cache
def _units(language: str) -> Mapping[str, int]:
    said = days_data(language).words["unit"]
    return {word: days for unit, days in _UNIT_DAYS.items() for word in said.get(unit, ())}


@cache
def _counted(language: str) -> Mapping[str, int]:
    return {str(word): int(n) for n, words in days_data(language).words["n"].items() for word in words}
