"""Moves told one after the other: "moved Ink to a 5 l and Dot to a 1 l, 4 cm of soil in each"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.clause_model import SENTENCE
from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.clauses.neighbours import acts_of, kinds
from bot.reading.words.rule_words import rule_words
from bot.reading.woven.her_things import fills_home
from bot.terms import Kind


def goes_on_moving(prev: Frame, frame: Frame) -> None:
    """ "…, Dot to a 1 l": one more who was moved, into a home of its own; gives it the verb."""
    told = Kind.REHOUSED in kinds(prev) and any(a.dimension == "volume" for _, a in prev.amounts)
    only = not (frame.verbs or frame.meals or frame.loose or frame.unknown or frame.nouns & _POURED)
    sizes = {amount.dimension for _, amount in frame.amounts}
    if told and only and frame.ref_at and "volume" in sizes <= {"volume", "length"} and _apart(prev, frame):
        frame.verbs, frame.inherited = prev.verbs, True


def _apart(prev: Frame, frame: Frame) -> bool:
    tags = {t for r in frame.refs for t in r.tags}
    return tags.isdisjoint({t for r in prev.refs for t in r.tags}) and not frame.flags & _NOT_SO


_NOT_SO: Final = frozenset({"neg", "no", "still", "hedge", "future", "undone", "cond"})
#: Things that water is poured into.
_POURED: Final = frozenset({"water", "dish"})


def had_her_old_home(prev: Frame, frame: Frame) -> bool:
    """ "moved Ink into a 60 l tub and gave Dot her old one": moved as well; marks it so."""
    items = [i for i in frame.clause.items if i.cat not in "DM"]
    old = (
        len(items) > 2
        and items[-2].text in _OLD
        and ("one" in items[-1].senses or items[-1].senses.part == "box")
    )
    given = bool(acts_of(frame) & _GOT) and len(frame.refs) == 1 and not frame.meals and not frame.amounts
    if not (old and given and Kind.REHOUSED in kinds(prev) and _apart(prev, frame)):
        return False
    frame.verbs, frame.inherited, frame.loose = prev.verbs, True, []
    frame.nouns = frame.nouns | {"box"}
    return True


_OLD: Final = rule_words("old")


_GOT: Final = frozenset({"give", "get", "have", "take"})


def soil_in_each(told: Sequence[Frame], frame: Frame) -> bool:
    """ "…, 4 cm of soil in each": of all who were just moved."""
    if "each" not in frame.flags or not told or not _fills(told[-1], frame):
        return False
    for other in reversed(told):
        if not _fills(other, frame):
            break
        other.amounts = other.amounts + [(at + ADDED, amount) for at, amount in frame.amounts]
        other.nouns = other.nouns | frame.nouns
        if other.clause.sep == SENTENCE:
            break
    return True


def _fills(moved: Frame, frame: Frame) -> bool:
    deep = any(a.dimension == "length" for _, a in moved.amounts)
    return fills_home(moved, frame) or (moved.inherited and Kind.REHOUSED in kinds(moved) and not deep)
