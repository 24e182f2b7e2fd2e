"""Lists with a word before each: "le di a Ink y a Biscuit un grillo", "fed Ink, then Mole". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as


def each_to_whom(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "to" before the first of such a list alone, so that it is read as one."""
    out: list[Item] = []
    for item in items:
        joins = len(out) > 2 and (out[-1].text == "," or "and" in out[-1].senses)
        listed = joins and "to" in item.senses and out[-2].cat == "S" and _led_to(out[:-2])
        if not listed or "verb" in item.senses:
            out.append(item)
    return out


def one_after_another(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with an "and" for the "then" of "fed Ink, then Mole", behind whom no more is told."""
    out = list(items)
    for at in range(1, len(items) - 1):
        before = items[at - 2] if items[at - 1].text == "," and at > 1 else items[at - 1]
        ends = at + 2 >= len(items) or items[at + 2].cat == "M"
        if "then" in items[at].senses and before.cat == items[at + 1].cat == "S" and ends:
            out[at] = said_as(items[at], "and")
    return out


def _led_to(before: Sequence[Item]) -> bool:
    """Whether a "to" leads to the animal behind these items, or to the list that it belongs to."""
    at = len(before) - 1
    while at > 0 and before[at - 1].cat == "S" and (before[at].text == "," or "and" in before[at].senses):
        at -= 2
    return at >= 0 and "to" in before[at].senses and before[at].cat == "W"
