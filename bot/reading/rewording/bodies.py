"""A body found where several live together: "found a little body in the commune tub" is one of them dead."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.numbers import NumberSpan
from bot.reading.words.rule_words import rule_words

BODIES: Final = rule_words("bodies")


def bodies_found(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "2 bodies in the commune" as "2 of the commune died"."""
    for at in range(1, len(items) - 2):
        where, whom = items[at + 1 : at + 3]
        if items[at].text not in BODIES or "on" not in where.senses or not _a_lot(whom, names):
            continue
        start = at - 1
        while start and "size" in items[start].senses:
            start -= 1
        number = _number(items[start])
        end = at + 4 if at + 3 < len(items) and "noun" in items[at + 3].senses else at + 3
        if number is None or _denied(items[:start]):
            continue
        end = _past_those_left(items, end, names.by_tag[whom.val.tags[0]].lot_size - number)
        if any(item.cat == "N" for item in items[end:]):
            continue  # "…, just the one"
        one = Item("N", items[start].i, items[start].j, items[start].text, val=NumberSpan(0, 1, number))
        return [*items[:start], one, said_as(where, "of"), whom, said_as(items[at], "died"), *items[end:]]
    return list(items)


def _a_lot(item: Item, names: ShelfNames) -> bool:
    """Whether an item names for sure a tag under which several live."""
    sure = item.cat == "S" and item.val.sure and len(item.val.tags) == 1 and not item.owns
    return sure and names.by_tag[item.val.tags[0]].lot_size > 1


def _past_those_left(items: Sequence[Item], end: int, left: int) -> int:
    """Behind "7 left", where so many are left indeed."""
    at = end + 1 if end < len(items) and items[end].text == "," else end
    if at + 1 >= len(items) or items[at].cat != "N" or "leftover" not in items[at + 1].senses:
        return end
    return at + 2 if items[at].val.value == left else end


def _number(item: Item) -> int | None:
    if item.cat == "N":
        value = item.val.value
        return int(value) if value is not None and not item.val.doubt else None
    return 1 if "a" in item.senses or item.text in _ONE else None


_ONE: Final = rule_words("a_little_one")


def _denied(before: Sequence[Item]) -> bool:
    return any(not _DENIES.isdisjoint(item.senses) for item in before)


_DENIES: Final = frozenset({"neg", "no", "hedge", "cond", "none_of"})
