"""Warmth read off with no unit: "18.5 on shelf E", "probe in Mole's burrow says 24.1". Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.reading.amounts.spans import AmountSpan
from bot.reading.items.item import Item, begins_behind, end_ahead, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: Of a figure with a point between these, °C alone is the warmth of a room where spiders are kept: in °F it
#: freezes (by the definition of the degree Fahrenheit), and a place has no length or weight.
_LEAST: Final = Decimal(10)
_MOST: Final = Decimal(38)
_FIGURE: Final = re.compile(r"\d\d[.,]\d")


def warmth_read_off(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a figure as degrees, where a clause has nothing but it and the place it was read at.

    Of an animal only where what it was read on is named.
    """
    out = list(items)
    for at, item in enumerate(items):
        if item.cat != "U" or not _FIGURE.fullmatch(item.text):
            continue
        value = Decimal(item.text.replace(",", "."))
        if _LEAST <= value <= _MOST and _read_off(_clause(items, at)):
            warmth = AmountSpan(item.i, item.j, "temperature", value, None, "°C")
            out[at] = Item("A", item.i, item.j, item.text, val=warmth)
    return out


def _clause(items: Sequence[Item], at: int) -> Sequence[Item]:
    """The items between the marks around a place."""
    return items[begins_behind(items, at, is_mark) : end_ahead(items, at + 1, is_mark)]


def _read_off(clause: Sequence[Item]) -> bool:
    whom = [item for item in clause if item.cat == "S"]
    figures = [item for item in clause if item.cat == "U"]
    small = (i.cat in "SUDP" or not _SMALL.isdisjoint(i.senses) or _is_home(i) for i in clause)
    if len(whom) != 1 or len(figures) != 1 or not all(small):
        return False
    stands = whom[0].val.how == "place" and not whom[0].text[-1].isdigit()  # a numbered tub may be weighed
    return stands or any(item.text in _GAUGES for item in clause)


def _is_home(item: Item) -> bool:
    return item.senses.part in {"mouth", "box"}


_SMALL: Final = frozenset({"fill", "on", "did", "report", "the"})
_GAUGES: Final = rule_words("gauges")
