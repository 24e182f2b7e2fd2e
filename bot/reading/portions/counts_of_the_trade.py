"""Numbers as the trade writes them: "1000er Dose Heimchen" for feeders, "0.0.3" for three of no known sex."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.numbers import NumberSpan

#: From this number on one "in an order" before a pack says how many are in it.
_SMALLEST_PACK: Final = 10
#: Males, females and those of no known sex.
_BY_SEX: Final = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{1,3})")


def packs_of_feeders(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with "eine 1000er Dose Heimchen" as "1000 Heimchen"; of several packs nothing is changed."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if not _is_pack(items, at) or (out and out[-1].cat == "N"):
            out.append(item)
            at += 1
            continue
        if out and "a" in out[-1].senses:
            out.pop()
        out.append(_number(item, int(item.val.value)))
        at += 2
    return out


def _is_pack(items: Sequence[Item], at: int) -> bool:
    number, behind = items[at], items[at + 1 : at + 4]
    counts = number.cat == "N" and number.val.ordinal and (number.val.value or 0) >= _SMALLEST_PACK
    if not counts or not behind or behind[0].senses.part != "box":
        return False
    return any("prey" in item.senses for item in behind[1:])


def counted_by_sex(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with "0.0.3" right before a species as how many they are."""
    out = list(items)
    for at, (item, behind) in enumerate(pairwise(items)):
        said = _BY_SEX.fullmatch(item.text) if item.cat == "U" else None
        sort = behind.cat == "T" or (behind.cat == "S" and behind.val.species is not None)
        if said is not None and sort:
            out[at] = _number(item, sum(map(int, said.groups())))
    return out


def _number(item: Item, value: int) -> Item:
    return Item("N", item.i, item.j, str(value), val=NumberSpan(0, 1, value))
