"""Names that nobody bears in a list of those something was done to: "fed Ink and Bubbles"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item, Ref
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_words_in_order

#: What ends a word for what somebody did, of which none is a name: "ate and wandered", "ate and legging it".
_ENDINGS: Final = rule_words_in_order("endings_of_deeds")
#: No word with so few letters has such an ending: "Zed", "Ling".
_LONGEST_WITHOUT: Final = 4


def listed_strangers(frames: Sequence[Frame]) -> None:
    """Makes a name that nobody bears of a word not understood that goes on a list of animals.

    Dropped, it would leave an animal out of what the keeper tells of; so it is asked about.
    """
    listing = False
    for before, frame in pairwise(frames):
        listing = _ends_in_whom(before) or (listing and before.bare)
        joined = frame.clause.sep == AND or _alone_behind_comma(frame)
        joined = joined and not (frame.refs or frame.verbs or frame.excepted)
        if joined and listing and (word := _stranger(frame.clause.items)) is not None:
            frame.refs.append(Ref.stranger(word.text))
            frame.ref_at.append(0)


def _alone_behind_comma(frame: Frame) -> bool:
    """ "misted Dot, Bubbles": a word that is all of its clause."""
    items = frame.clause.items
    return frame.clause.sep == COMMA and len(items) == 1 and len(items[0].text) > len("er")


def _ends_in_whom(frame: Frame) -> bool:
    """ "fed Ink", "watered Ink and Bubbles": what the keeper did, and at its end to whom."""
    items = frame.clause.items
    if not frame.refs or not items or frame.ref_at[-1] != len(items) - 1:
        return False
    if any(not ref.tags for ref in frame.refs):
        return True
    return any(verb.group.keeper for _, item in frame.verbs for verb in item.senses.verbs)


def _stranger(items: Sequence[Item]) -> Item | None:
    """The word at the head of a clause, where nothing follows it or only what each of the list had."""
    word, behind = items[0], items[1:]
    done = len(word.text) > _LONGEST_WITHOUT and word.text.endswith(_ENDINGS)
    remark = word.text in word_set("remarks") and not word.upper
    name = word.cat == "U" and word.text.isalpha() and not (done or remark)
    of_each = all(i.cat in "NAD" or not _OF_EACH.isdisjoint(i.senses) for i in behind)
    return word if name and of_each else None


_OF_EACH: Final = frozenset({"a", "prey", "size", "each", "some", "fill", "prekilled", "all"})
