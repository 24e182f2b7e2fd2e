"""Her span or weight told with a meal: "Ink 2 crickets, 15 cm", "Ink ate 2 crickets, 31 g". Pure.

Behind a comma it is a measure of its own; elsewhere, and where it may be the feeder's, it is asked about.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Final

from bot.reading.drafts import Doubt, Draft
from bot.reading.fields import fill
from bot.reading.frames import ADDED, Frame
from bot.reading.model import FEEDING, About
from bot.terms import Kind

#: No feeder is as long or as heavy as this (common practice, no source); what is less may be the feeder's.
_LONGEST_FEEDER: Final = Decimal(4)
_HEAVIEST_FEEDER: Final = Decimal(5)
_LEAST: Final = {"length": _LONGEST_FEEDER, "weight": _HEAVIEST_FEEDER}
#: Senses of words between a figure and the feeder that it is of: "a 2 cm adult roach".
_OF_A_FEEDER: Final = frozenset({"prey", "size", "prekilled"})


def measured_beside(draft: Draft, frame: Frame) -> Draft | None:
    """The measure told beside a meal; where it is not sure to be one, the meal has the doubt."""
    if draft.kind not in FEEDING:
        return None
    amounts = [
        (at, amount)
        for at, amount in frame.amounts
        if amount.dimension in _LEAST and not _of_the_feeder(frame, at, amount)
    ]
    if not amounts:
        return None
    behind = all(at >= ADDED for at, _ in amounts)
    small = bool(frame.meals) and any(a.value < _LEAST[a.dimension] for _, a in amounts)
    if not behind or small or len(draft.tags) != 1 or frame.nouns or "thing" in frame.flags:
        said = str(amounts[0][1].value.normalize())
        draft.doubts.append(Doubt(About.AMOUNT, "number_unexplained", said))
        return None
    filled = fill(Kind.MEASURED, frame, [])
    return Draft(Kind.MEASURED, draft.tags, draft.day, draft.time, fields=filled.fields, doubts=filled.doubts)


def _of_the_feeder(frame: Frame, at: int, amount: Any) -> bool:
    """ "a 2 cm roach", "a roach of 2 g"; "a roach, 2 cm" may be hers."""
    items = frame.clause.items
    if at + 1 < len(items) and not _OF_A_FEEDER.isdisjoint(items[at + 1].senses):
        return True
    if 0 < at < len(items) and "of" in items[at - 1].senses:
        return True
    return bool(frame.meals) and at < ADDED and amount.value < _LEAST[amount.dimension]
