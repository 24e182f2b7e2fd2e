"""A specimen: one animal, or one lot of animals living together, with a tag."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

from bot.terms.value_object import value_object


class Sex(StrEnum):
    """What is known of an animal's sex."""

    FEMALE = "female"
    MALE = "male"
    UNKNOWN = "unknown"


class Stage(StrEnum):
    """The keeper's word for how far grown an animal is."""

    SLING = "sling"
    JUVENILE = "juvenile"
    ADULT = "adult"
    MATURE_MALE = "mature male"


class Habit(StrEnum):
    """Where a species makes its home."""

    TERRESTRIAL = "terrestrial"
    FOSSORIAL = "fossorial"
    ARBOREAL = "arboreal"


@value_object(kw_only=True)
class Specimen:
    """Who a specimen is: what a keeper may call it, and what it is.

    ``common`` are trade names of the species, ``aka`` the keeper's other names for this very
    specimen. ``lot_size`` is the number of animals in a lot; 1 for a single animal.
    Shelves are sequences of specimens in the order in which they stand.
    """

    tag: str
    species: str
    name: str | None = None
    common: tuple[str, ...] = ()
    aka: tuple[str, ...] = ()
    sex: Sex = Sex.UNKNOWN
    stage: Stage = Stage.JUVENILE
    span_cm: Decimal | None = None
    habit: Habit = Habit.TERRESTRIAL
    place: str | None = None
    lot_size: int = 1

    @property
    def called(self) -> str:
        """The name with the tag behind it, or the tag alone: ``Anvil (C1)``, ``B2``."""
        return f"{self.name} ({self.tag})" if self.name else self.tag
