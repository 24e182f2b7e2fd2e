"""What is taken back with no mark before it: "Ink ate no she didn't". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames

FIX: Final = frozenset({"fix"})
_DENIAL: Final = "denial"


def denials_apart(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a comma before words that say that nothing of it happened."""
    out: list[Item] = []
    for item in items:
        fix = item.senses.get("fix")
        if fix is not None and fix.group.act == _DENIAL and out and out[-1].cat != "M":
            out.append(Item("M", item.i, item.i, ","))
        out.append(item)
    return out
