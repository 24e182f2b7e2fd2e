"""Where an animal's water is: the dish, the substrate, or not told apart.

A keeper who has noted both refills of the dish and waterings of the substrate is asked for each in its turn,
as is one who has said how often a place is to get water. Where only one of them was ever noted or said, it
counts for all; a watering without a word on where it went always counts for both.
"""

from __future__ import annotations

from collections.abc import Collection
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


def water_places(animal: Animal, said: Collection[WaterPlace] = ()) -> tuple[Watered, ...]:
    """The places that an animal is to have water in: of a dry kind past its first stage only the dish.

    ``said`` are those of which the keeper has said how often; they are always among the places but for the
    dish of a sealed burrow: none is filled there, and a corner of the substrate is wetted from above.
    """
    state = animal.state
    is_wetted = _SUBSTRATE in said or state.last_dampened is not None
    of_one_place = not (said or are_told_apart(state))
    if of_one_place or (state.sealed_since is not None and not is_wetted):
        return (Watered(_ANY, state.last_watered),)
    substrate = Watered(_SUBSTRATE, dampened(state))
    dish = Watered(_DISH, dish_filled(state))
    if state.sealed_since is not None:
        return (substrate,)
    has_dish = _DISH in said or state.last_dish is not None
    if animal.species.moisture is _DRY and animal.stage is not _SLING:
        is_wetted = _SUBSTRATE in said
    return (*([dish] if has_dish else []), *([substrate] if is_wetted else []))


def _later(one: date | None, other: date | None) -> date | None:
    if one is None or other is None:
        return one or other
    return max(one, other)
