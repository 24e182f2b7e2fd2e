"""What of a message's items says the same, or is of a sort, so that it may take another's place. Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.marks import HARD


def sort_of(item: Item) -> str:
    """What may be put in another's place: an animal, a number, an amount, a day, a feeder, a size."""
    if item.cat in "SNAD":
        return item.cat
    return next((sort for sort in ("prey", "size") if sort in item.senses), "")


def same(one: Item, other: Item) -> bool:
    """Whether two items say the same."""
    if one.cat != other.cat:
        return False
    if one.cat == "S":
        return bool(one.val.tags == other.val.tags)
    if one.cat == "N":
        return bool(one.val.value == other.val.value)
    if one.cat == "D":
        return one.val.day is not None and bool(one.val.day == other.val.day)
    if one.cat == "A":
        return bool((one.val.dimension, one.val.value) == (other.val.dimension, other.val.value))
    if "prey" in one.senses and "prey" in other.senses:
        return one.senses["prey"].group.prey == other.senses["prey"].group.prey
    if one.senses.verbs and other.senses.verbs:
        return one.text == other.text or one.senses.kinds == other.senses.kinds
    return one.text == other.text


def without_marks(out: list[Item]) -> list[Item]:
    """The items without the marks at their end, which go with what is taken back."""
    while out and (out[-1].cat == "M" and out[-1].text in _TRIMMED):
        out.pop()
    return out


_TRIMMED: Final = frozenset(",–-…(") | HARD
