"""Groups of whom what is not so of them takes some out: "fed everyone who isn't in premolt". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.excepted_numbers import tells
from bot.reading.whom.exceptions import LEFT_IN_PEACE
from bot.reading.words.rule_words import rule_words


def those_not_so(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with an exception of nobody known for what is not so of a group: who that is, is asked."""
    return replaced(items, _exception)


def _exception(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
    end = _end(items, at)
    if end is None:
        return None
    words = " ".join(item.text for item in items[at:end])
    whom = Ref((), sure=False, words=words, doubt="excepted_whom")
    return end, [Item("X", items[at].i, items[end - 1].j, words, val=[whom])]


def _end(items: Sequence[Item], at: int) -> int | None:
    """Where what is not so of the group before an item ends, beside something that was done."""
    group = items[at - 1].val if at and items[at - 1].cat == "S" else None
    if group is None or not (group.plural or group.group):
        return None
    end = at
    while end < len(items) and (items[end].text in _THAT or not _RELATES.isdisjoint(items[end].senses)):
        end += 1
    if end + 1 >= len(items) or "neg" not in items[end].senses:
        return None
    so = not items[end + 1].senses.kinds.isdisjoint(LEFT_IN_PEACE)
    others = [*items[: at - 1], *items[end + 2 :]]
    return end + 2 if so and any(tells(item) for item in others) else None


_THAT: Final = rule_words("that")
_RELATES: Final = frozenset({"rel", "ones"})
