"""Groups told behind the places that were named: "fed A and B, 2 crickets each for the adults". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames

#: A group of animals, or of prey that they are given.
GROUPS: Final = frozenset({"S"})


def told_on_places(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with each group that is told how it was fed kept to the places that were fed."""
    for at, item in enumerate(items):
        if item.cat == "S" and _is_group(item):
            there = _places_fed(items, at)
            some = tuple(tag for tag in item.val.tags if tag in there)
            if some and _has_a_meal(items, at):
                item.val.tags = some
                item.val.sure = item.val.sure or (item.val.doubt == "two_fit" and len(some) == 1)
    return list(items)


def _is_group(item: Item) -> bool:
    ref = item.val
    return (
        ref.how == "group" and not ref.everyone and ref.place is None and (ref.sure or ref.doubt == "two_fit")
    )


def _places_fed(items: Sequence[Item], at: int) -> set[str]:
    """Those of the places named before in the sentence; nobody where something else was told since."""
    before = items[begins_behind(items, at, ends_sentence) : at]
    done = {kind for item in before for kind in item.senses.kinds}
    places = [item for item in before if item.cat == "S" and item.val.how == "place" and item.val.sure]
    listed = len(before) > 1 and "and" in before[-1].senses and before[-2] in places  # "fed A and the slings"
    if not places or listed or not done or not done <= FEEDING:
        return set()
    return {tag for place in places for tag in place.val.tags}


def _has_a_meal(items: Sequence[Item], at: int) -> bool:
    """Whether a meal, or how many, stands right before a group or right behind it."""
    around = [*items[max(0, at - 4) : at], *items[at + 1 : at + 3]]
    return any(item.cat == "N" or "prey" in item.senses for item in around)
