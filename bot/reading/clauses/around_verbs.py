"""What stands around a verb in its clause, and who does what it says."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item


def words_before(frame: Frame, at: int) -> Sequence[Item]:
    """What stands before a verb in its own clause; nothing where it is another clause's verb."""
    return () if frame.inherited else frame.clause.items[:at]


def alone(frame: Frame, at: int) -> bool:
    """An animal, the verb, and nothing that it could be done to: "K3 laid", "topped off rack 1"."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    said = frame.refs and not (frame.meals or frame.amounts or frame.loose)
    return bool(said) and all(i.cat in "SDPMX" or "fill" in i.senses for i in after)


def hers(frame: Frame, at: int) -> bool:
    """Whether the animal itself does it: it, or the word that stands for it, is right before the verb."""
    small = {"fill", "did", "both", "all", "each"}
    before = [(n, i) for n, i in enumerate(words_before(frame, at)) if not small & set(i.senses)]
    if not before:
        return False
    place, last = before[-1]
    return last.cat == "S" or "pron" in last.senses or place in frame.ref_at


def thing_of_hers(frame: Frame, at: int) -> bool:
    """ "sold Ink's old tub": behind a verb stands a thing of hers, and not she."""
    behind = () if frame.inherited else frame.clause.items[at + 1 :]
    whose = next((n for n, i in enumerate(behind) if i.cat == "S"), None)
    if whose is None or not behind[whose].owns:
        return False
    thing = next((i for i in behind[whose + 1 :] if i.cat != "W" or _OF_A_KIND.isdisjoint(i.senses)), None)
    return thing is not None and "noun" in thing.senses


#: Senses of the words that say what a thing is like.
_OF_A_KIND: Final = frozenset({"trait", "fill", "size", "group"})
