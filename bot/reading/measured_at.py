"""A number behind "at" that measures, and is no hour: "measured Ink at 15, no, I mean 16 cm". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, ends_sentence
from bot.reading.names import ShelfNames
from bot.terms import Kind

FIXES: Final = frozenset({"fix", "no"})
_OF_HER: Final = frozenset({"length", "weight"})


def measured_at(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without a bare hour behind a word for measuring, where a measure is put in its place."""
    return [item for at, item in enumerate(items) if not _is_no_hour(items, at)]


def _is_no_hour(items: Sequence[Item], at: int) -> bool:
    span = items[at].val if items[at].cat == "D" else None
    if span is None or not span.implied or span.time is None or not items[at].text.split()[-1].isdecimal():
        return False
    measuring = any(Kind.MEASURED in item.senses.kinds for item in items[:at])
    behind = items[at + 1 :]
    end = next((n for n, item in enumerate(behind) if ends_sentence(item)), len(behind))
    put_right = any(not FIXES.isdisjoint(item.senses) for item in behind[:end])
    return measuring and put_right and any(_is_measure(item) for item in behind[:end])


def _is_measure(item: Item) -> bool:
    return item.cat == "A" and item.val.dimension in _OF_HER
