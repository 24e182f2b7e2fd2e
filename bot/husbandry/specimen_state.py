"""What is so of a specimen now: the fields of its state."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from bot.terms import Sex, Stage


@dataclass(frozen=True, kw_only=True)
class SpecimenState:
    """What is so now, by the journal. Days are the keeper's local dates; ``None`` means never seen.

    ``sealed_since`` and ``premolt_since`` are set while it lasts. ``open_offer`` is the day of an
    offer whose outcome is not known yet. ``refusals`` counts refused meals since the last taken
    one or the last molt, whichever is later, and ``refusing_since`` is the day of the first of them.
    ``last_interval`` is the days between the last two molts. ``eaten_since_molt`` tells whether it has
    taken a meal since ``last_molted``. ``fangs_black`` is how its fangs were last found since it molted or
    opened its burrow, on the day ``fangs_on``.
    ``last_watered`` is any water at all; ``last_dish`` and ``last_dampened`` (substrate or mist) tell
    where it went, where that was said; ``last_plain_water`` is water of which it was not.
    ``drying_weight`` and ``drying_sum`` are what ``water_record`` makes of waterings and of looks at the
    substrate. ``molts_in_home`` counts the molts since it was last rehoused, or on record. ``condition`` is
    how the keeper found its abdomen in this skin, on the day ``condition_on``: a value of
    ``condition_record.Condition``. ``missing_since`` is set from the note that it escaped until it is found,
    or is told to have been fed, moved or measured. ``gone_on`` is the day a specimen died or left;
    ``gone_how`` the kind of that entry. ``lot_size`` is how many animals are left in a lot (0 once it is
    gone).
    """

    first_entry: date | None = None
    last_entry: date | None = None
    last_fed: date | None = None
    last_prey: str | None = None
    last_prey_size: str | None = None
    last_prey_count: int | None = None
    open_offer: date | None = None
    last_refused: date | None = None
    refusals: int = 0
    refusing_since: date | None = None
    last_watered: date | None = None
    last_water_how: str | None = None
    last_dish: date | None = None
    last_dampened: date | None = None
    last_plain_water: date | None = None
    drying_weight: int = 0
    drying_sum: int = 0
    last_molted: date | None = None
    last_interval: int | None = None
    eaten_since_molt: bool = True
    fangs_on: date | None = None
    fangs_black: bool = False
    premolt_since: date | None = None
    sealed_since: date | None = None
    last_opened: date | None = None
    last_checked: date | None = None
    last_cleaned: date | None = None
    last_rehoused: date | None = None
    molts_in_home: int = 0
    volume_l: Decimal | None = None
    substrate_cm: Decimal | None = None
    span_cm: Decimal | None = None
    span_on: date | None = None
    carapace_mm: Decimal | None = None
    weight_g: Decimal | None = None
    weight_on: date | None = None
    condition: str | None = None
    condition_on: date | None = None
    sex: Sex = Sex.UNKNOWN
    stage: Stage | None = None
    matured_on: date | None = None
    last_paired: date | None = None
    sac_since: date | None = None
    missing_since: date | None = None
    gone_on: date | None = None
    gone_how: str | None = None
    lot_size: int = 1


def state_with(values: Mapping[str, Any]) -> SpecimenState:
    """The state of some fields, the others at their default; fields are not checked.

    A frozen dataclass sets its forty fields one by one, which is most of the cost of reading a large shelf.
    Here those left out are left to the class, which has every default.
    """
    state = object.__new__(SpecimenState)
    vars(state).update(values)
    return state
