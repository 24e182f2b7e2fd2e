"""Where an animal's water is: the dish, the substrate, or not told apart.

A keeper who has noted both refills of the dish and waterings of the substrate is asked for each in its turn.
Where only one of them was ever noted, it counts for all; a watering without a word on where it went always
counts for both.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from bot.husbandry.animal import Animal
from bot.husbandry.species import Moisture
from bot.husbandry.state import SpecimenState
from bot.terms import Stage
from bot.terms.value_object import value_object


class WaterPlace(StrEnum):
    """What is to be given water."""

    ANY = "any"
    DISH = "dish"
    SUBSTRATE = "substrate"


# An enum that is asked for a member takes ten times as long as a name: several times for each animal.
_ANY, _DISH, _SUBSTRATE = WaterPlace.ANY, WaterPlace.DISH, WaterPlace.SUBSTRATE
_DRY, _SLING = Moisture.DRY, Stage.SLING


@value_object()
class Watered:
    """A place for water, and the day on which it last got some."""

    place: WaterPlace
    last: date | None


def are_told_apart(state: SpecimenState) -> bool:
    """Whether both the dish and the substrate are on record."""
    return state.last_dish is not None and state.last_dampened is not None


def dish_filled(state: SpecimenState) -> date | None:
    """The day on which the dish was last filled, or water given without a word on where."""
    return _later(state.last_dish, state.last_plain_water)


def dampened(state: SpecimenState) -> date | None:
    """The day on which the substrate was last wetted, or water given without a word on where."""
    return _later(state.last_dampened, state.last_plain_water)


def water_places(animal: Animal) -> tuple[Watered, ...]:
    """The places that an animal is to have water in: of a dry kind past its first stage only the dish.

    Behind a sealed burrow no dish is filled: a corner of the substrate is wetted from above.
    """
    state = animal.state
    if not are_told_apart(state):
        return (Watered(_ANY, state.last_watered),)
    substrate = Watered(_SUBSTRATE, dampened(state))
    if state.sealed_since is not None:
        return (substrate,)
    dish = Watered(_DISH, dish_filled(state))
    if animal.species.moisture is _DRY and animal.stage is not _SLING:
        return (dish,)
    return dish, substrate


def _later(one: date | None, other: date | None) -> date | None:
    if one is None or other is None:
        return one or other
    return max(one, other)
