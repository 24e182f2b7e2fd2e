"""A number behind "at" that measures, and is no hour: "measured Ink at 15, no, I mean 16 cm". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

FIXES: Final = frozenset({"fix", "no"})
_OF_HER: Final = frozenset({"length", "weight"})


def measured_at(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without a bare hour behind a word for measuring, where a measure is put in its place."""
    return [item for at, item in enumerate(items) if not _is_no_hour(items, at)]


def measured_off_a_skin(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without "taken from her exuvia", which says of what a measure is, and of no meal."""
    for at in range(len(items) - 1):
        taken = items[at].text.rpartition(" ")[2] in TAKEN and "from" in items[at + 1].senses
        end = at + 2
        while end < len(items) and not {"the", "pron", "a"}.isdisjoint(items[end].senses):
            end += 1
        if taken and end < len(items) and Kind.MOLTED in items[end].senses.kinds:
            return [*items[:at], *items[end + 1 :]]
    return list(items)


TAKEN: Final = rule_words("taken")


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
