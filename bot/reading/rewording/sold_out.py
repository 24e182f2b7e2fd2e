"""What there was none of: "the shop was out of small ones so I bought 50 large", "ran out of them". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, end_ahead, ends_sentence, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

SO: Final = frozenset({"so"})


def sold_out(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without what a shop did not have, where behind it is told what was bought in its place."""
    for at, item in enumerate(items):
        if "so" in item.senses and at and _bought(items[at + 1 : at + 4]):
            opens = begins_behind(items, at, ends_sentence)
            if _had_none(items[opens:at]):
                return [*items[:opens], *_with_prey(items[at + 1 :], items[opens:at])]
    return list(items)


def ran_out(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without "ran out of crickets before B", which tells of nobody's meal."""
    for at in range(1, len(items)):
        prey = any("prey" in item.senses for item in items[at + 1 : at + 3])
        if items[at].text in _OUT_OF and items[at - 1].text in _RAN and prey:
            end = end_ahead(items, at, is_mark)
            return [*items[: at - 1], *items[end:]]
    return list(items)


_RAN: Final = rule_words("ran")
_OUT_OF: Final = rule_words("out_of")


def _with_prey(behind: Sequence[Item], before: Sequence[Item]) -> list[Item]:
    """ "no small crickets so I got 100 medium ones": of those that there were none of in another size."""
    prey = next((item for item in before if "prey" in item.senses), None)
    named = any("prey" in item.senses for item in behind)
    return [prey if prey and not named and "ones" in item.senses else item for item in behind]


def _bought(behind: Sequence[Item]) -> bool:
    return any("buy" in item.senses.acts for item in behind)


def _had_none(before: Sequence[Item]) -> bool:
    """Whether words tell of what was not to be had, and of nothing that was done."""
    if any(item.cat in "SXD" for item in before):
        return False
    return any(item.text in _NOT_TO_BE_HAD or "no" in item.senses for item in before)


_NOT_TO_BE_HAD: Final = rule_words("not_to_be_had")
