"""How long one watering lasts an animal's substrate: practice, the air of the room, and its own record.

The middle of practice for its moisture class and stage is what a room of ordinary air calls for. A reading
of temperature and humidity, and a depth of substrate on record, scale it by how fast such a layer dries: at
first as fast as the air takes it up, then slower as the surface dries (the two stages of FAO-56, equations
73 and 74, from memory). How airy an enclosure is nobody notes; that, and what the keeper means by damp, is
in the animal's own record, which takes over as it grows. No number of days is promised: hence the range.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache
from math import exp, inf, log, sqrt
from typing import Final

from bot.husbandry import practice
from bot.husbandry.air import vapour_deficit_pa
from bot.husbandry.animal import GENERAL_RULE, OWN_RECORD, SPECIES_FILE, Animal
from bot.husbandry.enclosure import substrate_for
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.species import Moisture
from bot.terms import Habit, Stage
from bot.terms.value_object import value_object

#: The room that practice's figures are taken to be made for: 24 °C at 60 %.
USUAL_DEFICIT_PA: Final = vapour_deficit_pa(24.0, 60.0)
#: A reading older than so many days says nothing of today.
READING_DAYS: Final = 14
#: Water that a cm of substrate gives off before it is dry, in mm: coir holds 165 to 855 mL/L (Noguera et al.
#: 2003), of which half is taken to be given off; and how deep a layer dries from above, in cm.
WATER_MM_PER_CM: Final = Figure(
    2.5, 0.8, 4.3, f"Noguera et al. 2003 for what coir holds; half of it: {COMMON}"
)
DRYING_LAYER_CM: Final = Figure(12.0, 10.0, 15.0, "FAO-56, from memory")
#: Water that goes as fast as the air takes it, as a part of all, and in mm at most (FAO-56: 2 to 12).
FREELY_PART: Final = Figure(0.4, 0.2, 0.6, COMMON)
FREELY_MM: Final = Figure(7.0, 2.0, 12.0, "FAO-56, from memory")
#: The part of that water after which the class is watered again.
WATERED_AT: Final = {Moisture.DRY: 0.9, Moisture.PART_MOIST: 0.65, Moisture.MOIST: 0.35}
#: How far air and depth may move practice's figure.
_MOST_MOVED: Final = 2.0
#: Scatter in logs: of practice about an enclosure, and of one drying about the enclosure's usual one.
_RULE_SD, _ONCE_SD = 0.35, 0.2
#: What practice counts beside an own record's weight.
_BY_RULE: Final = 1.0 / _RULE_SD**2
_P95: Final = 1.645
#: Below practice's shortest interval by at most this part; never above its longest.
_SHORTEST_PART: Final = 0.5


@dataclass(frozen=True, slots=True)
class Air:
    """A reading of the air about an animal: its day, °C and % relative humidity."""

    on: date
    temp_c: float
    humidity_pct: float


@value_object()
class Watering:
    """Days from one watering to the next: the middle, its scatter in logs, bounds, and what they rest on.

    With boundless scatter all that practice has, from the low bound to the high one, is as likely.
    """

    middle: float
    scatter: float
    low: float
    high: float
    basis: str

    @classmethod
    def fixed(cls, days: int, basis: str) -> Watering:
        """So many days and no other."""
        return cls(days, 0.0, days, days, basis)

    @property
    def early(self) -> int:
        """Days at 5 %."""
        return self._within(self.middle / exp(_P95 * self.scatter))

    @property
    def days(self) -> int:
        """Days at 50 %."""
        return self._within(self.middle)

    @property
    def late(self) -> int:
        """Days at 95 %."""
        return self._within(self.middle * exp(_P95 * self.scatter))

    def _within(self, days: float) -> int:
        return round(self.low if days < self.low else min(days, self.high))


def watering_of(animal: Animal, on: date, *, fresh: bool = False, air: Air | None = None) -> Watering:
    """How long a watering lasts; a freshly molted animal is not made to wait."""
    species, state = animal.species, animal.state
    usual, low, high = _practice(species.moisture, animal.stage, fresh)
    rule = log(usual / thirst(animal, on, air))
    own = state.drying_weight / 1000.0
    mean = (rule * _BY_RULE + state.drying_sum / 1000.0) / (_BY_RULE + own)
    by_kind = SPECIES_FILE if species.known else GENERAL_RULE
    basis = OWN_RECORD if own > _BY_RULE else by_kind
    return Watering(exp(mean), sqrt(1.0 / (_BY_RULE + own) + _ONCE_SD**2), low, high, basis)


@cache
def _practice(moisture: Moisture, stage: Stage, fresh: bool) -> tuple[float, float, float]:
    """The days of practice, and the bounds that no animal's own record goes beyond."""
    figure = practice.WATER_INTERVAL[moisture, stage]
    high = min(figure.high, practice.WATER_WHILE_FRESH.value) if fresh else figure.high
    return figure.value, min(max(1.0, _SHORTEST_PART * figure.low), high), high


def dish_of(animal: Animal, *, fresh: bool = False) -> Watering:
    """How long a full dish lasts, by practice alone: nobody notes how much of it was left."""
    return _dish_of(animal.stage, fresh)


@cache
def _dish_of(stage: Stage, fresh: bool) -> Watering:
    figure = practice.DISH_INTERVAL[stage]
    most = practice.WATER_WHILE_FRESH.value if fresh else figure.high
    return Watering(figure.value, inf, min(figure.low, most), min(figure.high, most), GENERAL_RULE)


def thirst(animal: Animal, on: date, air: Air | None) -> float:
    """How many times as fast as usual its substrate dries: by the air of late, and its depth on record."""
    times = 1.0
    if air is not None and 0 <= (on - air.on).days <= READING_DAYS:
        times *= _thirst_of_air(air.temp_c, air.humidity_pct)
    depth, species = animal.state.substrate_cm, animal.species
    if depth is not None and depth > 0:
        times *= _thirst_of_depth(float(depth), animal.span_cm, species.habit, species.moisture)
    return min(max(times, 1.0 / _MOST_MOVED), _MOST_MOVED)


@lru_cache(maxsize=256)
def _thirst_of_air(temp_c: float, humidity_pct: float) -> float:
    return max(vapour_deficit_pa(temp_c, humidity_pct), 1.0) / USUAL_DEFICIT_PA


@lru_cache(maxsize=4096)  # home and span stay the same for months, and are asked for every day
def _thirst_of_depth(depth_cm: float, span_cm: float, habit: Habit, moisture: Moisture) -> float:
    return lasting(substrate_for(habit, span_cm), moisture) / lasting(depth_cm, moisture)


def lasting(depth_cm: float, moisture: Moisture) -> float:
    """How long a layer lasts its class, in mm of water over what the air takes up in a day when it is wet."""
    whole = WATER_MM_PER_CM.value * min(depth_cm, DRYING_LAYER_CM.value)
    freely = min(FREELY_PART.value * whole, FREELY_MM.value)
    used = WATERED_AT[moisture] * whole
    if used <= freely:
        return used
    return freely + (whole - freely) * log((whole - freely) / (whole - used))
