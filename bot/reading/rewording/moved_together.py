"""Several animals moved at once: "moved Ink and Mole into bigger tubs" is of both of them. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as

#: The sense of the verbs, of which one must be there.
MOVING: Final = frozenset({"verb"})
#: What the keeper does with animals, and what a home is that they have only now.
_MOVES: Final = frozenset({"move", "put", "put_into", "give"})
_NEW_HOME: Final = frozenset({"bigger", "new", "new_home"})
_SMALL: Final = frozenset({"to", "on", "with", "pron", "a", "the", "fill"})
_SEVERAL: Final = 2


def moved_together(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with several who were given larger or new homes as rehoused."""
    out = list(items)
    for at in range(len(out) - 1, -1, -1):
        if _MOVES.isdisjoint(out[at].senses.acts):
            continue
        last = _last_of_several(out, at + 1)
        end = _end_of_new_homes(out, last + 1) if last is not None else None
        if last is not None and end is not None:
            out[at], out[last + 1 : end] = said_as(out[at], _REHOUSED), []
    return out


_REHOUSED: Final = "rehoused"


def _last_of_several(items: Sequence[Item], start: int) -> int | None:
    """Where the last of two names or more stands that follow one another."""
    at, last, named = start, None, 0
    while at < len(items) and items[at].cat == "S":
        last, named, at = at, named + 1, at + 1
        while at < len(items) and (items[at].text == "," or "and" in items[at].senses):
            at += 1
    return last if named >= _SEVERAL else None


def _end_of_new_homes(items: Sequence[Item], start: int) -> int | None:
    """Where "into their bigger tubs" ends; ``None`` where something else is said."""
    at = start
    while at < len(items) and _NEW_HOME.isdisjoint(items[at].senses.acts):
        if items[at].cat != "W" or _SMALL.isdisjoint(items[at].senses):
            return None
        at += 1
    if at == len(items):
        return None
    at += 1
    if at < len(items) and (items[at].cat == "U" or items[at].senses.part == "box"):
        at += 1
    ends = at == len(items) or items[at].cat in "MD" or not {"and", "but"}.isdisjoint(items[at].senses)
    return at if ends else None
