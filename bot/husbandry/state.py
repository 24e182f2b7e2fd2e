"""The state of a specimen: what its journal adds up to today.

The state is a fold over the specimen's live entries in the order of day, clock time and entry
number; storage keeps it beside the journal in the same transaction and can rebuild it at any time.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from bot.terms import Sex, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecimenState:
    """What is so now, by the journal. Days are the keeper's local dates; ``None`` means never seen.

    ``sealed_since`` and ``premolt_since`` are set while it lasts. ``open_offer`` is the day of an
    offer whose outcome is not known yet. ``refusals`` counts refused meals since the last taken
    one. ``first_meal_after_molt`` tells whether it has eaten since ``last_molted``.
    ``gone_on`` is the day a specimen died or left; ``gone_how`` the kind of that entry.
    ``lot_size`` is how many animals are left in a lot.
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
    last_watered: date | None = None
    last_water_how: str | None = None
    last_molted: date | None = None
    molts: int = 0
    eaten_since_molt: bool = True
    premolt_since: date | None = None
    sealed_since: date | None = None
    last_opened: date | None = None
    last_checked: date | None = None
    last_cleaned: date | None = None
    last_rehoused: date | None = None
    volume_l: Decimal | None = None
    substrate_cm: Decimal | None = None
    span_cm: Decimal | None = None
    span_on: date | None = None
    carapace_mm: Decimal | None = None
    weight_g: Decimal | None = None
    weight_on: date | None = None
    sex: Sex = Sex.UNKNOWN
    stage: Stage | None = None
    matured_on: date | None = None
    last_paired: date | None = None
    sac_since: date | None = None
    gone_on: date | None = None
    gone_how: str | None = None
    lot_size: int = 1
