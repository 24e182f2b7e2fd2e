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
from math import exp, log, sqrt
from typing import Final

from bot.husbandry import practice
from bot.husbandry.air import vapour_deficit_pa
from bot.husbandry.animal import GENERAL_RULE, OWN_RECORD, SPECIES_FILE, Animal
from bot.husbandry.enclosure import substrate_for
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.species import Moisture

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
_P95: Final = 1.645
#: Below practice's shortest interval by at most this part; never above its longest.
_SHORTEST_PART: Final = 0.5


@dataclass(frozen=True, slots=True)
class Air:
    """A reading of the air about an animal: its day, °C and % relative humidity."""

    on: date
    temp_c: float
    humidity_pct: float


@dataclass(frozen=True, slots=True)
class Watering:
    """Days from one watering to the next, at 5, 50 and 95 %, and what they rest on."""

    early: int
    days: int
    late: int
    basis: str


def watering_of(animal: Animal, on: date, *, fresh: bool = False, air: Air | None = None) -> Watering:
    """How long a watering lasts; a freshly molted animal is not made to wait."""
    figure = practice.WATER_INTERVAL[animal.species.moisture, animal.stage]
    rule = log(figure.value / thirst(animal, on, air))
    by_rule, own = 1.0 / _RULE_SD**2, animal.state.drying_weight / 1000.0
    mean = (rule * by_rule + animal.state.drying_sum / 1000.0) / (by_rule + own)
    spread = _P95 * sqrt(1.0 / (by_rule + own) + _ONCE_SD**2)
    high = min(figure.high, practice.WATER_WHILE_FRESH.value) if fresh else figure.high
    low = min(max(1.0, _SHORTEST_PART * figure.low), high)
    middle, wide = exp(mean), exp(spread)
    by_kind = SPECIES_FILE if animal.species.known else GENERAL_RULE
    return Watering(
        _within(low, middle / wide, high),
        _within(low, middle, high),
        _within(low, middle * wide, high),
        OWN_RECORD if own > by_rule else by_kind,
    )


def dish_of(animal: Animal, *, fresh: bool = False) -> Watering:
    """How long a full dish lasts, by practice alone: nobody notes how much of it was left."""
    figure = practice.DISH_INTERVAL[animal.stage]
    most = practice.WATER_WHILE_FRESH.value if fresh else figure.high
    early, days, late = (round(min(part, most)) for part in (figure.low, figure.value, figure.high))
    return Watering(early, days, late, GENERAL_RULE)


def _within(low: float, days: float, high: float) -> int:
    return round(low if days < low else min(days, high))


def thirst(animal: Animal, on: date, air: Air | None) -> float:
    """How many times as fast as usual its substrate dries: by the air of late, and its depth on record."""
    times = 1.0
    if air is not None and 0 <= (on - air.on).days <= READING_DAYS:
        times *= max(vapour_deficit_pa(air.temp_c, air.humidity_pct), 1.0) / USUAL_DEFICIT_PA
    depth = animal.state.substrate_cm
    if depth is not None and depth > 0:
        suits = substrate_for(animal.species.habit, animal.span_cm)
        moisture = animal.species.moisture
        times *= lasting(suits, moisture) / lasting(float(depth), moisture)
    return min(max(times, 1.0 / _MOST_MOVED), _MOST_MOVED)


def lasting(depth_cm: float, moisture: Moisture) -> float:
    """How long a layer lasts its class, in mm of water over what the air takes up in a day when it is wet."""
    whole = WATER_MM_PER_CM.value * min(depth_cm, DRYING_LAYER_CM.value)
    freely = min(FREELY_PART.value * whole, FREELY_MM.value)
    used = WATERED_AT[moisture] * whole
    if used <= freely:
        return used
    return freely + (whole - freely) * log((whole - freely) / (whole - used))
