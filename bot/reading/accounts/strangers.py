"""Names that nobody bears and of which nothing came: whom they mean is asked, so that none of it is lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import UNKNOWN_NAME
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.model import About
from bot.terms import Kind


def names_of_strangers(frames: Sequence[Frame]) -> Mapping[str, str]:
    """The names that nobody bears, each with the words of its clause; no words that only may be one."""
    return {
        item.val.words: " ".join(said.text for said in frame.clause.items)
        for frame in frames
        for item in frame.clause.items
        if item.cat == "S" and not item.val.tags and item.val.doubt == UNKNOWN_NAME
    }


def lost_strangers(drafts: Sequence[Draft], names: Mapping[str, str], today: date) -> list[Draft]:
    """For each of them that no draft asks about what was said there, as a note on whoever it is.

    "everyone on C ate, even Zork" tells of somebody, though not what.
    """
    asked = {doubt.words for draft in drafts for doubt in draft.doubts if doubt.key == UNKNOWN_NAME}
    return [
        Draft(Kind.NOTE, (), today, fields={"note": said}, doubts=[Doubt(About.SPECIMEN, UNKNOWN_NAME, name)])
        for name, said in names.items()
        if name not in asked
    ]
