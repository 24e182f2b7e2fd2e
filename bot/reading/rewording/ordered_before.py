"""Which feeders are meant, by what the keeper did before: "the 200 crickets I ordered came today". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

ORDERED: Final = rule_words("ordered_before")


def ordered_before(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without "I ordered" behind feeders of which something else is told."""
    for at in range(2, len(items)):
        self, feeders = items[at - 1], items[at - 2]
        says_which = items[at].text in ORDERED and "self" in self.senses and "prey" in feeders.senses
        if says_which and _the(items[: at - 2]) and at + 1 < len(items) and items[at + 1].cat == "W":
            return [*items[: at - 1], *items[at + 1 :]]
    return list(items)


def _the(before: Sequence[Item]) -> bool:
    """Whether "the" or "my" leads to feeders, perhaps with how many and of which size."""
    small = next((i for i in reversed(before) if i.cat != "N" and "size" not in i.senses), None)
    return small is not None and not {"the", "self"}.isdisjoint(small.senses)
