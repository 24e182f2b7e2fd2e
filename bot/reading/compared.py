"""An animal that another is only compared with: "Mole is as big as Ink" tells nothing of Ink. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item
from bot.reading.names import ShelfNames

#: The sense of words behind which stands what something is compared with: "bigger than".
THAN: Final = "than"


def compared(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without the animals that another is compared with, one or several.

    "Mole is bigger than Ink, 15 cm" measures Mole alone. Where nobody else is named the animal stays, since
    then it may be the one told of: "more than Ink ate yesterday".
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        out.append(items[at])
        at += 1
        if THAN in out[-1].senses and any(item.cat == "S" for item in out):
            at = _behind_names(items, at)
    return out


def _behind_names(items: Sequence[Item], at: int) -> int:
    """Where the names at a place end: "Ink", or "Ink and Biscuit" if no more is told of the second."""
    if at >= len(items) or items[at].cat != "S":
        return at
    at += 1
    if at + 1 < len(items) and "and" in items[at].senses and items[at + 1].cat == "S":
        ends = at + 2
        if ends >= len(items) or items[ends].cat == "M":
            return ends
    return at
