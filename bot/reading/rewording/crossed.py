"""A cross between two animals, as breeders write a pairing: "Captain x T07". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.terms import Kind

#: The cross, a letter on most keyboards.
CROSS: Final = frozenset({"x"})
_PAIRED: Final = "paired"


def crossed(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a cross between two single animals said as a pairing, where no word tells of one."""
    out = list(items)
    if any(Kind.PAIRED in item.senses.kinds for item in items):
        return out
    for at in range(1, len(items) - 1):
        before, behind = items[at - 1], items[at + 1]
        if items[at].text in CROSS and _one(before) and _one(behind) and before.val.tags != behind.val.tags:
            out[at] = said_as(items[at], _PAIRED)
    return out


def _one(item: Item) -> bool:
    return item.cat == "S" and item.val.sure and len(item.val.tags) == 1
