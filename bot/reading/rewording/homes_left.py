"""The home that somebody was moved out of: "from a 2 l to a 5 l tub", "out of her pot into a 12 l". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words


def homes_left(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without a home that is left, where behind it stands how large the next one is."""
    return replaced(items, _home_left)


def _home_left(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
    """ "from a 2 l to": where that ends, and the "into" that stands for it."""
    end = _end_of_home(items, at + 1) if "from" in items[at].senses else None
    if end is not None and "and" in items[end].senses:
        end += 1
    if end is None or not _leads_on(items, end):
        return None
    into = items[end]
    return end + 1, [Item("W", into.i, into.j, "into", senses=into.senses)]


def _leads_on(items: Sequence[Item], at: int) -> bool:
    """Whether "into", and how large a home is, stands at a place."""
    into = at < len(items) and items[at].text in _INTO
    return into and any(map(_is_volume, items[at + 1 : at + 3]))


_INTO: Final = rule_words("into_or_to")
#: Senses of the small words before a home.
_SMALL: Final = frozenset({"a", "the", "pron"})


def _end_of_home(items: Sequence[Item], start: int) -> int | None:
    """Where a home ends that is told by its size, by what it is, or by both; before the last item."""
    at = start
    while at < len(items) and not _SMALL.isdisjoint(items[at].senses):
        at += 1
    first = at
    while at < len(items) and (_is_volume(items[at]) or "noun" in items[at].senses):
        at += 1
    return at if first < at < len(items) else None


def _is_volume(item: Item) -> bool:
    return item.cat == "A" and item.val.dimension == "volume"
