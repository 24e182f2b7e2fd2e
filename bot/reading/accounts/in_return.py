"""Feeders that came for an animal: "Ink an Mario abgegeben und 20 Zophobas von ihm gekriegt". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.kinds.drafts import Doubt, Draft, kind_choices
from bot.reading.model import About
from bot.terms import Kind


def in_return(drafts: Sequence[Draft], before: int, frame: Frame) -> None:
    """Turns prey that somebody who just left would have got into feeders bought; ``before``: drafts so far.

    From somebody it was bought or swapped; else it may have been her last meal, and is asked.
    """
    gone = 0 < before <= len(drafts) and drafts[before - 1].kind is Kind.LEFT  # one may be taken back
    if frame.ref_at or not (gone or frame.from_words) or "get" not in acts_of(frame):
        return
    for draft in drafts[before:]:
        if draft.kind is not Kind.FED or "prey" not in draft.fields:
            continue
        if "from" in frame.flags or frame.from_words:
            draft.kind, draft.tags, draft.doubts = Kind.STOCKED, (), []
        else:
            choices = kind_choices(Kind.STOCKED, Kind.FED)
            draft.doubts.append(Doubt(About.KIND, "two_kinds", choices=choices))
