"""The words that take back what was said: "no wait", "scratch that", a bare "no". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.corrections import WELL, fixes
from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words


def behind_the_cue(items: Sequence[Item], at: int) -> int:
    """The first item behind words that take back and the marks around them; ``at`` where there are none."""
    if not may_take_back(items[at]):
        return at
    end = at
    while end < len(items) and (may_take_back(items[end]) or items[end].text in AROUND):
        end += 1
    return end


def may_take_back(item: Item) -> bool:
    """Whether a word takes back what stands before it, or may do so."""
    return fixes(item) or is_no(item) or item.text in WELL


def is_no(item: Item) -> bool:
    """Whether an item is a bare "no"."""
    return item.text in _NO and "neg" not in item.senses  # where it is "not" as well, that is likelier


def takes_back(cue: Sequence[Item]) -> bool:
    """Whether the words say for sure that something is taken back; a bare "no" may be an answer."""
    return any(fixes(item) for item in cue)


_NO: Final = rule_words("says_no")
AROUND: Final = frozenset(",–-…(:") | rule_words("oh")


def past_it_was(items: Sequence[Item], at: int) -> int:
    """Past "it was" and "on", which lead to what is meant."""
    two = items[at : at + 2]
    was = len(two) > 1 and "pron" in two[0].senses and "did" in two[1].senses
    named = len(two) > 1 and "did" in two[0].senses and two[1].cat == "S"  # "miento, fue Biscuit"
    at += 2 if was else named
    return at + 1 if at < len(items) and items[at].text in _ON else at


_ON: Final = rule_words("on_or_at")


#: Senses of the small words around what is said.
SMALL: Final = frozenset({"a", "the", "pron", "self", "did", "fill", "rel", "one"})
