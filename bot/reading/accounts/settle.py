"""Drafts become a reading: entries where nothing is in doubt, else a question with its answers.

Where more than one thing is in doubt, the readings that the first question's answers stand for ask
the next.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from bot.reading.kinds.drafts import Doubt, Draft, others_left
from bot.reading.model import About, Ask, Option, Reading, ReadingKind

#: More answers than these are not offered; they can still be typed.
MOST_OPTIONS: Final = 12
_ORDER: Final = (About.KIND, About.SPECIMEN, About.DAY, About.PREY, About.AMOUNT)


def settled(text: str, drafts: Sequence[Draft], **beside: Any) -> Reading:
    """The reading of a message that tells these drafts; ``beside`` holds reminder, hold or question."""
    doubt = _first_doubt(drafts)
    if doubt is None:
        return Reading(
            reading=ReadingKind.ENTRIES, text=text, entries=tuple(d.entry() for d in drafts), **beside
        )
    holes = [n for n, d in enumerate(drafts) if any(_alike(x, doubt) for x in d.doubts)]
    options = tuple(
        Option(value=value, reading=settled(text, _answered(drafts, holes, doubt, changes), **beside))
        for value, changes in doubt.choices[:MOST_OPTIONS]
    )
    asked = Ask(
        about=doubt.about,
        doubt=doubt.key,
        words=doubt.words,
        choices=tuple(value for value, _ in doubt.choices) if doubt.about is About.SPECIMEN else (),
        options=options,
        draft=_with_hole(text, _answered(drafts, holes, doubt, {}), **beside),
        holes=tuple(holes),
    )
    return Reading(reading=ReadingKind.ASK, text=text, ask=asked)


def _with_hole(text: str, drafts: Sequence[Draft], **beside: Any) -> Reading:
    """The drafts with the doubt left open; where more is in doubt, with the next question."""
    rest = settled(text, drafts, **beside)
    return replace(rest, entries=tuple(d.entry() for d in drafts))


def _first_doubt(drafts: Sequence[Draft]) -> Doubt | None:
    doubts = [doubt for draft in drafts for doubt in draft.doubts]
    return min(doubts, key=lambda doubt: _ORDER.index(doubt.about), default=None)


def _alike(one: Doubt, other: Doubt) -> bool:
    return one is other or (one.about is other.about and one.key == other.key and one.words == other.words)


def _answered(
    drafts: Sequence[Draft], holes: Sequence[int], doubt: Doubt, changes: dict[str, Any]
) -> list[Draft]:
    out = []
    for place, draft in enumerate(drafts):
        if place in holes:
            rest = [d for d in draft.doubts if not _alike(d, doubt)]
            out.append(replace(draft.changed(changes), doubts=rest))
        else:
            out.append(draft)
    told = [(d.kind, d.day, d.tags) for n, d in enumerate(out) if n in holes and "tags" in changes]
    return [
        d if n in holes or not told else replace(d, tags=others_left((d.kind, d.day, d.tags), told))
        for n, d in enumerate(out)
    ]
