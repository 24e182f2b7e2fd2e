"""What was told of two and was the other way round: "Ink 2 crickets, Biscuit 3, other way round". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.clauses.frames import Frame
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.model import About


def turned_round(drafts: Sequence[Draft], frame: Frame) -> bool:
    """Gives each of the last two what was told of the other; whether a clause says no more than that.

    Where more than two were told of, or more is said, all of it is asked about.
    """
    if "turned" not in frame.flags or not drafts:
        return False
    more = bool(frame.ref_at or frame.verbs or frame.meals)
    whom = {draft.tags for draft in drafts}
    two = len(drafts) == len(whom) and len(drafts) == len(("the one", "the other"))
    if two and not more and not any(draft.doubts for draft in drafts):
        first, second = drafts
        first.tags, second.tags = second.tags, first.tags
        return True
    for draft in drafts:
        draft.doubts.append(Doubt(About.KIND, "taken_back"))
    return not more
