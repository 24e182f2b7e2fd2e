"""Whom the simulator brings to life: an animal, what is known of its species, and how it is today."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from bot.husbandry import practice
from bot.husbandry.species import Species
from bot.terms import Specimen, Stage


class Scene(StrEnum):
    """What is so on the last day, so that a shelf shows all kinds of days at once."""

    PLAIN = "plain"
    HUNGRY = "hungry"
    OPEN_OFFER = "open offer"
    PREMOLT = "premolt"
    SEALED = "sealed"
    FRESH_MOLT = "fresh molt"
    SETTLING = "settling"
    SAC = "sac"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resident:
    """One animal of a simulated shelf. ``specimen`` is how it is on the last day of the records.

    ``on_shelf_days`` is how long it has lived here by then; ``None``: longer than the records.
    ``held_days`` is how long the keeper has held its feeding prompts, if they have.
    """

    specimen: Specimen
    species: Species
    scene: Scene = Scene.PLAIN
    on_shelf_days: int | None = None
    held_days: int | None = None


_GROWN: Final = frozenset({Stage.ADULT, Stage.MATURE_MALE})


def stage_at(resident: Resident, span_cm: float) -> Stage:
    """How far grown the animal was when it had this span; on the way here it was never further than now."""
    now = resident.specimen.stage
    adult_span = float(resident.species.adult_span_cm(resident.specimen.sex))
    dwarf = practice.SLING_BELOW_PART.value * float(resident.species.female_span_cm)
    if span_cm < min(practice.SLING_BELOW_CM.value, dwarf):
        return Stage.SLING
    if now in _GROWN and span_cm >= practice.ADULT_FROM_PART.value * adult_span:
        return now
    return Stage.JUVENILE if now is not Stage.SLING else Stage.SLING
