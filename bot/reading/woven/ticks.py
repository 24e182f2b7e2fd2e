"""Ticks, crosses, and a bare yes or no behind a name."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import RUN_ON, TITLE
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, feeds, refuses
from bot.reading.items.yes_and_no import ANSWERS, answers
from bot.reading.words.marks import TICKS
from bot.reading.words.rule_words import rule_words


def ticked(frame: Frame) -> bool:
    """Whether a tick or a cross stands in a clause."""
    return any(item.text in TICKS for item in frame.clause.items)


def ticked_off(frames: list[Frame]) -> None:
    """ "Ink ✓, Sunny ✗", "Ink yes, Sunny no": took it and did not, where the message is about feeding."""
    _undone(frames)
    signs = [({i.text for i in f.clause.items} & TICKS) or answer(f) or _answer_of_prey(f) for f in frames]
    if not any(signs):
        return
    other = any(f.verbs and not feeds(f) and "skip" not in acts_of(f) for f in frames)
    feeding = any(ticked(f) and "✗" in sign for f, sign in zip(frames, signs, strict=True)) or any(
        f.meals or feeds(f) or "food" in f.nouns for f in frames
    )
    if other or not feeding:
        return
    for frame, sign in zip(frames, signs, strict=True):
        of_others = frame.inherited and not ticked(frame)  # "offered crickets: Ink no, Mole yes"
        named = frame.ref_at or "titled name" in frame.flags  # "Ink: roach ✗"
        if named and len(sign) == 1 and (of_others or not frame.verbs):
            either = refuses(frame)  # "refused: Ink yes": that she did, or that she ate?
            frame.verbs = []
            frame.flags |= {"took", "declined"} if either else {"took" if "✓" in sign else "declined"}


def _answer_of_prey(frame: Frame) -> set[str]:
    """The sign for a feeder with a "yes" or "no" behind it: "Ink: roach no", "c1 roach yes"."""
    last = frame.clause.items[-1]
    hers = frame.clause.sep == TITLE if not frame.ref_at else frame.ref_at == [0]
    alone = hers and bool(frame.meals) and not frame.verbs
    return {ANSWERS[last.text]} if alone and last.text in ANSWERS else set()


def _undone(frames: Sequence[Frame]) -> None:
    """ "watered: Ink yes, Mole no", "water: not Ink": what others did, and what this one did not."""
    for frame in frames:
        not_her = answer(frame) == {"✗"} or _not_of(frame)
        if frame.inherited and not_her and not feeds(frame):
            frame.flags.add("undone")
    for frame, following in pairwise(frames):
        last = frame.clause.items[-1]
        own = bool(frame.verbs) and not frame.inherited and "verb" not in last.senses
        if own and following.clause.sep == RUN_ON and ANSWERS.get(last.text) == "✗":
            frame.flags.add("hedge")  # "offered crickets - Ink no Mole yes", "Ink ate no Biscuit ate"


def _not_of(frame: Frame) -> bool:
    """ "not Ink": nobody but those of whom it is not so, behind a "not"."""
    items = frame.clause.items
    named = len(items) > 1 and all(i.cat in "SDM" or "and" in i.senses for i in items[1:])
    return named and items[0].text in _NOT and items[1].cat == "S"


_NOT: Final = rule_words("not")


def answer(frame: Frame) -> set[str]:
    """The sign for a clause that is animals and a "yes" or "no" behind them; empty for any other."""
    items = [i for i in frame.clause.items if i.cat not in "DM" and "both" not in i.senses]
    if len(items) < 2 or not answers(items, len(items) - 1):
        return set()
    named = all(i.cat == "S" or "and" in i.senses for i in items[:-1])
    return {ANSWERS[items[-1].text]} if named else set()
