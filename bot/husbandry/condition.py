"""An animal's condition: what the keeper has noted of its abdomen, or its weight against its span.

The later of the two counts, of one day the keeper's eye. A molt ends what was known: the new skin shows the
abdomen anew. What was noted long ago ends too, since the meals that it led to have done their work.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from bot.husbandry import practice
from bot.husbandry.animal import Animal
from bot.husbandry.condition_record import Condition
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.proportions import WEIGHT_PER_CM3
from bot.terms import Stage
from bot.terms.value_object import value_object

__all__ = ["HOLDS", "Condition", "Found", "condition_of"]

#: For so many of the usual gaps between meals it counts; a fat abdomen takes the longest to go.
HOLDS: Final[Mapping[Condition, Figure]] = MappingProxyType(
    {
        Condition.THIN: Figure(4.0, 2.0, 6.0, COMMON),
        Condition.PLUMP: Figure(4.0, 2.0, 6.0, COMMON),
        Condition.FAT: Figure(8.0, 4.0, 12.0, COMMON),
    }
)


@value_object()
class Found:
    """How an animal was found on a day, by the keeper's eye or by weighing it."""

    condition: Condition
    on: date
    by_weight: bool = False


def condition_of(animal: Animal, meal_on: date) -> Found | None:
    """The condition that counts for the gap after a meal of a day; ``None`` where nothing is known of it.

    It may have been noted after that meal. Nothing is told of a mature male, whose abdomen shrinks in any
    case, nor of a lot, where what holds for one does not for all.
    """
    state = animal.state
    if state.condition is None and state.weight_g is None:
        return None  # as of most, and asked for each animal of each round
    if animal.stage is Stage.MATURE_MALE or animal.specimen.lot_size > 1:
        return None
    noted = None
    if state.condition is not None and state.condition_on is not None:
        noted = Found(Condition(state.condition), state.condition_on)
    found = max((one for one in (_weighed(animal), noted) if one is not None), key=_later, default=None)
    if found is None or found.condition is Condition.USUAL:
        return None
    gap = practice.FEEDING_INTERVAL[animal.stage, animal.species.pace].value
    return found if (meal_on - found.on).days <= HOLDS[found.condition].value * gap else None


def _later(found: Found) -> tuple[date, bool]:
    return found.on, not found.by_weight


def _weighed(animal: Animal) -> Found | None:
    """By a weight and a span of its present skin, where they are beyond what differs from kind to kind."""
    state, since = animal.state, animal.state.last_molted or date.min
    if state.weight_g is None or state.weight_on is None or not state.span_cm or state.span_on is None:
        return None
    if min(state.weight_on, state.span_on) < since:
        return None
    per_cm3 = float(state.weight_g) / float(state.span_cm) ** 3
    thin, fat = per_cm3 < WEIGHT_PER_CM3.low, per_cm3 > WEIGHT_PER_CM3.high
    if not (thin or fat):
        return None
    return Found(Condition.THIN if thin else Condition.FAT, state.weight_on, by_weight=True)
