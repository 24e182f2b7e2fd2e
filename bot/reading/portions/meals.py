"""Prey of a clause while it is taken apart: what, how many, how big."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words
from bot.terms import PreySize


class Meal:
    """Prey of one sort: ``count`` for each animal, ``doubt`` where the number was not said for sure.

    ``unknown``: a word stands for the prey that nobody knows.
    """

    __slots__ = ("count", "doubt", "each", "ones", "prekilled", "prey", "single", "size", "unknown", "words")

    def __init__(self) -> None:
        self.prey: str | None = None
        self.count: int | None = None
        self.size: PreySize | None = None
        self.prekilled = False
        self.ones = self.single = False
        self.doubt = ""
        self.each = self.unknown = False
        self.words = ""


class _One:
    """The one of "a cricket", as a number that was found."""

    value = 1
    doubt = ""
    low = high = 1


class _Two:
    """The two of "both of her crickets"."""

    value = 2
    doubt = ""
    low = high = 2


ONE: Final = _One()
TWO: Final = _Two()


def vague(text: str) -> bool:
    """Whether a word such as "a few" leaves the number open."""
    return text not in _SOME


_SOME: Final = rule_words("some_or_any")


def denied_at(items: Sequence[Item], place: int) -> int | None:
    """Where the "no" stands that denies the prey at ``place``: "no crickets", "no more of those crickets"."""
    at = place - 1
    while at >= 0 and not _BETWEEN.isdisjoint(items[at].senses):
        at -= 1
    return at if at >= 0 and "none_of" in items[at].senses else None


#: Senses of the words that may stand between a "no" and the prey that it denies.
_BETWEEN: Final = frozenset({"size", "prekilled", "fill", "of", "the", "some"})


def count(meal: Meal, number: Any) -> None:
    """Sets how many a number says, or the doubt about it."""
    if number.doubt:
        meal.doubt = str(number.doubt)
    elif number.value is not None and number.value == int(number.value):
        meal.count = int(number.value)
    else:
        meal.doubt = "part"
