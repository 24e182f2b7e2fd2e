"""What is announced before it is told: "new arrival, one Nhandu chromatus"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.frames import Frame
from bot.reading.names import EXACT
from bot.reading.neighbours import acts_of


def announced(frames: Sequence[Frame]) -> list[Frame]:
    """ "new arrival, one Nhandu chromatus": the words that announce it are those of what follows."""
    out: list[Frame] = []
    for frame in frames:
        if out and _only_announces(out[-1]) and not frame.verbs and (frame.taxa or _of_species(frame)):
            before = out.pop()
            frame.verbs, frame.inherited, frame.days = before.verbs, True, frame.days or before.days
            frame.clause.sep = before.clause.sep
        out.append(frame)
    return out


def _only_announces(frame: Frame) -> bool:
    said = frame.refs or frame.taxa or frame.meals or frame.amounts or frame.loose or frame.clause.titled
    return bool(frame.verbs) and not said and acts_of(frame) <= {"new"}


def _of_species(frame: Frame) -> bool:
    return any(r.species and r.how not in EXACT for r in frame.refs)
