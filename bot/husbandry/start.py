"""What is so of a specimen before its first entry: what it came as."""

from __future__ import annotations

from datetime import date

from bot.husbandry.state import SpecimenState
from bot.terms import Specimen


def start_of(came_as: Specimen, on: date | None) -> SpecimenState:
    """The state before the first entry, of a specimen as it came; ``on`` is the day that its span is of.

    The fold needs it: without the size of a lot, the death of one of six would end the whole lot.
    """
    return SpecimenState(
        sex=came_as.sex,
        stage=came_as.stage,
        span_cm=came_as.span_cm,
        span_on=None if came_as.span_cm is None else on,
        lot_size=came_as.lot_size,
    )
