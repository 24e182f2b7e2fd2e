"""Rows that say first what, then to whom, with no mark between: "2 dubia Lantern 1 dubia Twig". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, is_mark
from bot.reading.names.shelf_names import ShelfNames

_SEVERAL: Final = 2


def counts_first(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a comma behind each animal of such rows."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        begins = not out or is_mark(out[-1]) or bool(out[-1].senses.verbs)
        ends = _rows_from(items, at) if begins else []
        if len(ends) >= _SEVERAL:
            for end in ends:
                out += items[at:end]
                if end < len(items) and not is_mark(items[end]):
                    out.append(Item("M", items[end].i, items[end].i, ","))
                at = end
            continue
        out.append(items[at])
        at += 1
    return out


def _rows_from(items: Sequence[Item], at: int) -> list[int]:
    """Where each row ends that begins at an item or right behind another; none where one is cut off."""
    ends: list[int] = []
    while at < len(items) and items[at].cat == "N":
        place = at + 1
        while place < len(items) and "size" in items[place].senses and "prey" not in items[place].senses:
            place += 1
        whom = items[place + 1] if place + 1 < len(items) else None
        if whom is None or "prey" not in items[place].senses or whom.cat != "S":
            return []
        at = place + 2
        ends.append(at)
    return ends if at == len(items) or is_mark(items[at]) else []


def counts_for_each(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "one each for Ink and Mole two for Anvil": the items with a comma before each further number."""
    out: list[Item] = []
    begun = False
    for at, item in enumerate(items):
        for_whom = at + 2 < len(items) and "for" in items[at + 1].senses and items[at + 2].cat == "S"
        if begun and item.cat == "N" and for_whom and out[-1].cat == "S":
            out.append(Item("M", item.i, item.i, ","))
        out.append(item)
        begun = begun or "for" in item.senses
    return out
