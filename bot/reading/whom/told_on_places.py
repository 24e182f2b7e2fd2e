"""Groups told behind the places that were named: "fed A and B, 2 crickets each for the adults". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: A group of animals, or of prey that they are given.
GROUPS: Final = frozenset({"S"})


def told_on_places(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with each group that is told how it was fed kept to the places that were fed."""
    for at, item in enumerate(items):
        there = _places_fed(items, at, names) if _is_group(item) and _has_a_meal(items, at) else set()
        some = tuple(tag for tag in item.val.tags if tag in there) if there else ()
        if some:
            item.val.tags = some
            item.val.sure = item.val.sure or (item.val.doubt == "two_fit" and len(some) == 1)
        elif there and _of_a_part(items, at, names):
            item.val.sure, item.val.doubt = False, "some_of_several"  # of those there is none there
    return list(items)


def _of_a_part(items: Sequence[Item], at: int, names: ShelfNames) -> bool:
    """ "the females on A ate, the males refused": behind some of a place, and no other place."""
    before = [item for item in items[begins_behind(items, at, ends_sentence) : at] if item.cat == "S"]
    return all(_is_group(item) and _where_they_stand(item, names) for item in before)


def _is_group(item: Item) -> bool:
    ref = item.val
    return item.cat == "S" and (
        ref.how == "group" and not ref.everyone and ref.place is None and (ref.sure or ref.doubt == "two_fit")
    )


def _places_fed(items: Sequence[Item], at: int, names: ShelfNames) -> set[str]:
    """Those of the places named before in the sentence; nobody where something else was told since.

    A place is named as well where some of it are: "the adults on A had two each, the juveniles one".
    """
    before = items[begins_behind(items, at, ends_sentence) : at]
    done = {kind for item in before for kind in item.senses.kinds}
    places = [item for item in before if item.cat == "S" and item.val.how == "place" and item.val.sure]
    listed = len(before) > 1 and "and" in before[-1].senses and before[-2] in places  # "fed A and the slings"
    parts = {tag for item in before if _is_group(item) for tag in _where_they_stand(item, names)}
    if not (places or parts) or listed or not done or not done <= FEEDING:
        return set()
    return parts | {tag for place in places for tag in place.val.tags}


def _where_they_stand(group: Item, names: ShelfNames) -> tuple[str, ...]:
    """All of the place with which the words for a group end: "the adults on shelf A"."""
    words = tuple(group.text.split())
    for size in range(1, min(_LONGEST_PLACE, len(words) - 1) + 1):
        place = names.place_called(words[-size:]) if words[-size - 1] in _ON else None
        if place is not None:
            return place.tags
    return ()


_LONGEST_PLACE: Final = 3
_ON: Final = rule_words("on_or_in")


def _has_a_meal(items: Sequence[Item], at: int) -> bool:
    """Whether a meal, how many, or what came of it stands right before a group or right behind it."""
    behind = items[at + 1 : at + 3]
    around = [*items[max(0, at - 4) : at], *behind]
    came_of_it = bool(behind) and bool(behind[0].senses.kinds) and behind[0].senses.kinds <= FEEDING
    return came_of_it or any(item.cat == "N" or "prey" in item.senses for item in around)
