"""The volume of a home that somebody goes into, or is in by now, and no water that is poured. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words


def says_into(frame: Frame) -> bool:
    """ "Old Bess into a 15 l", "Twig to 20 l", "is in a 4 l now": no water, and no soil behind it."""
    items = frame.clause.items
    at = next((n for n, i in enumerate(items) if i.cat == "A" and i.val.dimension == "volume"), 0)
    before = [n for n in range(at) if _ARTICLES.isdisjoint(items[n].senses)]
    if not before or frame.nouns & _OF_WATER or _soil_behind(items[at + 1 :]):
        return False
    article = before[-1] < at - 1 or any(i.senses.part == "box" for i in items[at + 1 : at + 2])
    whither = items[before[-1]].text
    if whither in _TO:
        return items[at].val.value >= LITRES_OF_A_HOME or (article and _her(frame, before[-1] - 1))
    by_now = any(item.text in _SINCE_NOW for item in items[at:])
    return whither in _INTO or (whither in _IN and article and by_now and _her(frame, before[-1] - 1))


def _soil_behind(behind: Sequence[Item]) -> bool:
    return any(i.senses.part == "sub" for i in behind)


def _her(frame: Frame, at: int) -> bool:
    """Whether an animal, or what stands for one, is at a place: no "topped the dish to a litre"."""
    if at < 0:
        return False
    return at in frame.ref_at or not _STANDS_FOR_HER.isdisjoint(frame.clause.items[at].senses)


_ARTICLES: Final = frozenset({"a", "the"})
_STANDS_FOR_HER: Final = frozenset({"did", "pron"})
_OF_WATER: Final = frozenset({"dish", "water"})
_TO: Final = rule_words("to")
_INTO: Final = rule_words("into_alone")
_IN: Final = rule_words("in")
_SINCE_NOW: Final = rule_words("since_now")
#: So many litres somebody goes to; less may be water.
LITRES_OF_A_HOME: Final = 1
