"""Feeders and the containers they come or live in: "a pot of fruit flies", "out of the cricket tub"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, replaced
from bot.reading.names.shelf_names import ShelfNames

OF: Final = frozenset({"of"})
#: Senses of the words before a tub that is named after what it was for.
_LEAD_ON: Final = frozenset({"a", "the", "pron", "size"})


def counted_containers(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "2 pots of fruit flies", "a pot of pinheads": so many containers, and not so many feeders."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        counted = items[at].cat == "N" or "a" in items[at].senses
        return (at + 3, []) if counted and _is_box(items, at + 1) and _of_prey(items, at + 2) else None

    return replaced(items, stretch)


def tubs_of_feeders(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "out of her cricket tub": a tub that is called after feeders, where somebody came out of it."""
    return [
        item
        for at, item in enumerate(items)
        if not ("prey" in item.senses and _is_box(items, at + 1) and _left(items[:at]))
    ]


def _is_box(items: Sequence[Item], at: int) -> bool:
    return at < len(items) and items[at].senses.part == "box"


def _of_prey(items: Sequence[Item], at: int) -> bool:
    """Whether "of" stands here and a feeder behind it, their number and size between them or not."""
    if at >= len(items) or "of" not in items[at].senses:
        return False
    ahead = items[at + 1 : at + 4]
    behind = [i for i in ahead if i.cat != "N" and ("size" not in i.senses or "prey" in i.senses)]
    return bool(behind) and "prey" in behind[0].senses


def _left(before: Sequence[Item]) -> bool:
    """Whether the words before lead to what somebody came out of."""
    at = len(before) - 1
    while at >= 0 and not _LEAD_ON.isdisjoint(before[at].senses):
        at -= 1
    return at >= 0 and "from" in before[at].senses
