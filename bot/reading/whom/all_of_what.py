"""All of what is not understood: "all the zorps ate" tells of some that nobody knows, and not of everyone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words


def all_of_what(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with everyone in doubt, where a word not understood says of what they are all."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        noun = _noun_behind(items, at)
        if noun is None:
            return None
        word = items[noun]
        return noun + 1, [Item("S", items[at].i, word.j, word.text, val=Ref.stranger(word.text))]

    return replaced(items, stretch)


def _noun_behind(items: Sequence[Item], at: int) -> int | None:
    """Where the word stands that "all" is said of; ``None`` where it is said of everyone."""
    everyone = items[at]
    if everyone.cat != "S" or not everyone.val.everyone or everyone.text not in _ALL:
        return None
    noun = at + 1
    while noun < len(items) and _leads_to_a_noun(items[noun]):
        noun += 1
    if noun == len(items) or items[noun].cat != "U" or not items[noun].text.isalpha():
        return None
    behind = items[noun + 1 : noun + 3]
    led = noun > at + 1 or everyone.text in _ALL_THE
    if led and items[noun - 1].cat != "N":
        return None if behind and not _OF_WHOM.isdisjoint(behind[0].senses) else noun
    return noun if _is_told_of(behind) else None


def _leads_to_a_noun(item: Item) -> bool:
    """ "all my zorps", "all four of the zorps", "all the old zorps"."""
    return item.cat == "N" or item.text in _MY or not _BEFORE_A_NOUN.isdisjoint(item.senses)


def _is_told_of(behind: Sequence[Item]) -> bool:
    """Whether what follows is told of the word before: "all zorps ate", "all zorps on C", "all zorps: 2"."""
    if not behind:
        return False
    first = behind[0]
    placed = "on" in first.senses and any(item.cat == "S" for item in behind[1:])
    return placed or first.text == ":" or not _TOLD.isdisjoint(first.senses)


_ALL: Final = rule_words("all_of_what")
_ALL_THE: Final = rule_words("all_the")
_MY: Final = rule_words("my")
_BEFORE_A_NOUN: Final = frozenset({"the", "of", "from", "trait"})
#: Behind what an animal has: "all the records for Saffron".
_OF_WHOM: Final = frozenset({"for", "of", "from"})
_TOLD: Final = frozenset({"verb", "did", "neg", "undone", "elided"})
