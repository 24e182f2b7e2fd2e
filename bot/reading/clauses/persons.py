"""People by what they are to the keeper: "my neighbor", "a lady in Macon", "my brother-in-law Dale". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_words

#: So many words, the article with them, lead to the word for a person: "a nice old lady".
_MOST_BETWEEN: Final = 4


def person_until(items: Sequence[Item], place: int) -> int:
    """Where the words for a person that begin at a place end; the place itself where none do."""
    if place >= len(items) or not _leads(items[place]):
        return place
    for at in range(place, min(place + _MOST_BETWEEN, len(items))):
        item = items[at]
        if item.text.split()[-1] in word_set("persons"):
            return _with_where(items, at + 1)
        if at > place and (item.cat not in "UW" or not _ENDS.isdisjoint(item.senses)):
            break
    return place


def giver_until(items: Sequence[Item], verb: int) -> int:
    """Where whoever stands before a verb ends: "a fellow in Atlanta has sold me one"; 0 for nobody."""
    end = person_until(items, 0)
    return end if all({"did", "fill"} & item.senses.keys() for item in items[end:verb]) else 0


def _leads(item: Item) -> bool:
    return item.text.split()[0] in word_set("before_persons")


def _with_where(items: Sequence[Item], end: int) -> int:
    """Past what they are called, and where they live: "named Dale", "in Macon"."""
    while end < len(items):
        step = 2 if items[end].text in _BEFORE_A_NAME else 1
        name = items[end + step - 1 : end + step]
        if not name or name[0].cat != "U" or not (name[0].upper or step > 1):
            return end
        end += step
    return end


_BEFORE_A_NAME: Final = rule_words("before_where_one_lives")
_ENDS: Final = frozenset({"to", "from", "and", "on", "verb", "for", "with", "but", "prey"})
