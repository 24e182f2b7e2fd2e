"""What comes before it is told: "new arrival, one Nhandu chromatus", "nope, no cricket for Ink"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of


def announced(frames: Sequence[Frame]) -> list[Frame]:
    """ "new arrival, one Nhandu chromatus": the words that announce it are those of what follows."""
    out: list[Frame] = []
    _head_names(frames)
    for place, frame in enumerate(frames):
        if _only_interjects(frame, frames[place + 1 :]):
            frames[place + 1].clause.sep = START
            continue
        if out and _only_announces(out[-1]) and not frame.verbs and (frame.taxa or _of_species(frame)):
            before = out.pop()
            frame.verbs, frame.inherited, frame.days = before.verbs, True, frame.days or before.days
            frame.clause.sep = before.clause.sep
        out.append(frame)
    return out


def _head_names(frames: Sequence[Frame]) -> None:
    """ "moult!! GBB 3!!": a word for what happened alone, then the names, as below a heading."""
    if len(frames) != 2 or frames[0].clause.titled or frames[1].clause.sep != SENTENCE:
        return
    word, names = frames
    if names.clause.by == "?":
        return
    alone = len(word.clause.items) == len(word.verbs) == 1 and not word.refs
    if alone and names.bare and all(item.cat == "S" for item in names.clause.items):
        word.clause.titled = True


def _only_interjects(frame: Frame, following: Sequence[Frame]) -> bool:
    """ "nope, no cricket for Ink": a "nope" before what denies something by itself is no refusal."""
    alone = len(frame.clause.items) == 1 and acts_of(frame) == {"nope"} and frame.clause.sep == START
    return alone and bool(following) and not following[0].flags.isdisjoint(_DENIES)


_DENIES: Final = frozenset({"neg", "undone", "none served"})


def _only_announces(frame: Frame) -> bool:
    said = frame.refs or frame.taxa or frame.meals or frame.amounts or frame.loose or frame.clause.titled
    return bool(frame.verbs) and not said and acts_of(frame) <= {"new"}


def _of_species(frame: Frame) -> bool:
    return any(r.called_by_species for r in frame.refs)
