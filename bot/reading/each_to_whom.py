"""A list that says "to" before each of those in it: "le di a Ink y a Biscuit un grillo". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item
from bot.reading.names import ShelfNames


def each_to_whom(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "to" before the first of such a list alone, so that it is read as one."""
    out: list[Item] = []
    for item in items:
        joins = len(out) > 2 and (out[-1].text == "," or "and" in out[-1].senses)
        listed = joins and "to" in item.senses and out[-2].cat == "S" and _led_to(out[:-2])
        if not listed or "verb" in item.senses:
            out.append(item)
    return out


def _led_to(before: Sequence[Item]) -> bool:
    """Whether a "to" leads to the animal behind these items, or to the list that it belongs to."""
    at = len(before) - 1
    while at > 0 and before[at - 1].cat == "S" and (before[at].text == "," or "and" in before[at].senses):
        at -= 2
    return at >= 0 and "to" in before[at].senses and before[at].cat == "W"
