"""A feeder's size, and whom it was for, between commas: "locust x1, medium, to D1". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words


def size_beside_prey(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without the commas that part a feeder from its size, and both from whom they were for."""
    out: list[Item] = []
    for at, item in enumerate(items):
        comma = item.cat == "M" and item.text == ","
        if not (comma and _ends_with_prey(out) and (_size_alone(items, at + 1) or _for_whom(items, at + 1))):
            out.append(item)
    return out


def _ends_with_prey(said: Sequence[Item]) -> bool:
    """ "locust", "locust x1", "locust x1 medium": a feeder, how many, its size."""
    for item in reversed(said):
        if "prey" in item.senses:
            return True
        if item.cat != "N" and "size" not in item.senses:
            return False
    return False


def _size_alone(items: Sequence[Item], at: int) -> bool:
    """ "medium", and neither its animal nor its feeder behind it: "2 crickets, small Bess 1" has both."""
    if at >= len(items) or "size" not in items[at].senses:
        return False
    return at + 1 >= len(items) or is_mark(items[at + 1]) or _for_whom(items, at + 1)


def _for_whom(items: Sequence[Item], at: int) -> bool:
    """ "to D1", with nothing of another meal behind it: "for Ink a moth" has."""
    leads = at + 1 < len(items) and not {"to", "for"}.isdisjoint(items[at].senses)
    if not leads or items[at + 1].cat != "S":
        return False
    behind = items[at + 2] if at + 2 < len(items) else None
    return behind is None or is_mark(behind) or "and" in behind.senses


def a_little_one(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "a little roach": one that is small, and no little of it."""
    out: list[Item] = []
    for at, item in enumerate(items):
        prey = items[at + 1].senses.get("prey") if at + 1 < len(items) else None
        if item.text in A_LITTLE and prey is not None and not prey.group.plural:
            article, size = item.text.split()
            out += [said_as(item, article), said_as(item, size)]
        else:
            out.append(item)
    return out


A_LITTLE: Final = rule_words("a_little")
