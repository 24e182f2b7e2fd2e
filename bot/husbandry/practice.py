"""The trade's rules of thumb as tables: each figure with its range and what it rests on.

Days unless the name says otherwise. A keeper's own setting stands above all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import Final, TypeVar

from bot.husbandry.species import Moisture, Pace
from bot.terms import Habit, PreySize, Stage

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of practice: the value used, the range that keepers hold to, and its source."""

    value: float
    low: float
    high: float
    source: str
    #: The value as whole days.
    days: int = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "days", round(self.value))


COMMON: Final = "common practice, no source"
BTS: Final = (
    "British Tarantula Society: feed once or twice a week; ranges by stage: common practice, no source"
)

# --- stages ---------------------------------------------------------------------------------

#: A sling is below this span in cm, or below this part of the adult span for dwarf species.
SLING_BELOW_CM: Final = Figure(4.0, 3.8, 4.5, "trade practice: juveniles from about 3.8 to 4.5 cm")
SLING_BELOW_PART: Final = Figure(0.3, 0.25, 0.35, COMMON)
#: From this part of the species' adult span an animal is fed as an adult.
ADULT_FROM_PART: Final = Figure(0.8, 0.7, 0.9, COMMON)
#: What an animal that was never measured is taken to span: cm for a sling, parts of the adult span.
UNMEASURED_SLING_CM: Final = Figure(2.0, 1.0, 4.0, COMMON)
UNMEASURED_PART: Final[Mapping[Stage, Figure]] = MappingProxyType(
    {
        Stage.JUVENILE: Figure(0.45, 0.3, 0.8, COMMON),
        Stage.ADULT: Figure(1.0, 0.8, 1.1, COMMON),
        Stage.MATURE_MALE: Figure(1.0, 0.8, 1.1, COMMON),
    }
)

# --- feeding --------------------------------------------------------------------------------

_MALE_OFFER = Figure(10, 7, 14, f"small regular offers: {COMMON}")
FEEDING_INTERVAL: Final[Mapping[tuple[Stage, Pace], Figure]] = MappingProxyType(
    {
        (Stage.SLING, Pace.FAST): Figure(3, 3, 5, BTS),
        (Stage.SLING, Pace.MEDIUM): Figure(4, 3, 6, BTS),
        (Stage.SLING, Pace.SLOW): Figure(5, 3, 7, BTS),
        (Stage.JUVENILE, Pace.FAST): Figure(6, 5, 8, BTS),
        (Stage.JUVENILE, Pace.MEDIUM): Figure(7, 5, 9, BTS),
        (Stage.JUVENILE, Pace.SLOW): Figure(8, 6, 10, BTS),
        (Stage.ADULT, Pace.FAST): Figure(10, 7, 14, BTS),
        (Stage.ADULT, Pace.MEDIUM): Figure(12, 7, 18, BTS),
        (Stage.ADULT, Pace.SLOW): Figure(14, 7, 21, BTS),
        **{(Stage.MATURE_MALE, pace): _MALE_OFFER for pace in Pace},
    }
)
#: A thin animal is fed at the short end of what keepers hold to, a plump one at the long end, and a very fat
#: one, whose abdomen a fall or a rough edge may split, at so many times that. That an abdomen should not be
#: above twice the carapace: British Tarantula Society; the figure: common practice, no source.
FAT_GAPS: Final = Figure(1.5, 1.0, 2.0, COMMON)
#: A mother with an egg sac is disturbed as little as can be: a small meal now and then, out again if left.
FEEDING_WITH_SAC: Final = Figure(14, 10, 21, COMMON)

#: In the months in which the keeper wants it so, from a meal to the next: times the usual days. Slings, which
#: have little to live on, are fed as ever.
SLOW_MONTHS: Final = Figure(2.0, 1.5, 3.0, COMMON)

#: From a refused meal to the next try.
RETRY: Final[Mapping[Stage, Figure]] = MappingProxyType(
    {
        Stage.SLING: Figure(3, 2, 5, COMMON),
        Stage.JUVENILE: Figure(5, 3, 7, COMMON),
        Stage.ADULT: Figure(7, 5, 14, COMMON),
        Stage.MATURE_MALE: Figure(7, 5, 10, COMMON),
    }
)


@dataclass(frozen=True, slots=True)
class Meal:
    """What goes with a span: prey kind, size as the trade sizes it, and number."""

    prey: str
    size: PreySize
    count: int


#: (span below which it holds, cm; meal). Prey no longer than the abdomen, which is about a quarter
#: of the span: common practice, no source; cricket sizes 3, 6, 12, 16 and 19 mm.
MEALS: Final[tuple[tuple[float, Meal], ...]] = (
    (2.0, Meal("cricket", PreySize.PINHEAD, 1)),
    (4.0, Meal("cricket", PreySize.SMALL, 1)),
    (7.0, Meal("cricket", PreySize.MEDIUM, 1)),
    (11.0, Meal("cricket", PreySize.LARGE, 1)),
    (17.0, Meal("cricket", PreySize.ADULT, 2)),
    (float("inf"), Meal("cricket", PreySize.ADULT, 3)),
)
#: A mature male's small offer.
MALE_MEAL: Final = Meal("cricket", PreySize.MEDIUM, 1)
#: Staple prey that may be suggested again because the animal took it last; treats are not.
STAPLES: Final = frozenset({"cricket", "roach", "dubia roach", "red runner roach", "locust"})

# --- premolt --------------------------------------------------------------------------------------

#: How likely an offer is refused in premolt, and otherwise: after a taken meal, after one refusal before
#: it, and after more.
REFUSES_IN_PREMOLT: Final = (
    Figure(0.85, 0.6, 0.95, COMMON),
    Figure(0.9, 0.7, 0.98, COMMON),
    Figure(0.92, 0.7, 0.98, COMMON),
)
REFUSES_OTHERWISE: Final = (
    Figure(0.07, 0.02, 0.2, COMMON),
    Figure(0.35, 0.1, 0.6, COMMON),
    Figure(0.6, 0.3, 0.85, COMMON),
)
#: Premolt as a part of the interval. Fasts before a molt last days to weeks in slings, weeks to two
#: months and more in adults: common practice, no source.
PREMOLT_PART: Final = Figure(0.18, 0.08, 0.35, COMMON)

# --- rest -----------------------------------------------------------------------------------

#: On the day of a molt and this many days after it nothing is eaten: the fangs are still soft and pale.
NO_MEAL_AFTER_MOLT: Final = Figure(1, 1, 3, COMMON)
#: (span below which it holds, cm; days from a molt to the first meal, once the fangs are black).
FIRST_MEAL_AFTER_MOLT: Final[tuple[tuple[float, Figure], ...]] = (
    (2.5, Figure(5, 4, 5, COMMON)),
    (7.5, Figure(7, 7, 10, COMMON)),
    (12.5, Figure(10, 7, 14, COMMON)),
    (18.0, Figure(14, 10, 21, COMMON)),
    (float("inf"), Figure(18, 14, 21, COMMON)),
)
#: So many days after a molt the fangs of any animal are hard, whether or not anybody looked.
FANGS_HARD_FOR_SURE: Final = Figure(60, 42, 90, COMMON)
SETTLING_AFTER_REHOUSING: Final = Figure(5, 3, 7, COMMON)
SETTLING_AFTER_ARRIVAL: Final = Figure(4, 3, 7, COMMON)

#: How long a seal or a noted premolt lasts before it is worth a look from outside.
LONG_REST: Final[Mapping[Stage, Figure]] = MappingProxyType(
    {
        Stage.SLING: Figure(45, 30, 60, f"{COMMON}; a sealed sling of Lasiodora parahybana: over a month"),
        Stage.JUVENILE: Figure(60, 45, 90, COMMON),
        Stage.ADULT: Figure(90, 60, 120, COMMON),
        Stage.MATURE_MALE: Figure(60, 30, 90, COMMON),
    }
)
LOOK_AGAIN: Final = Figure(14, 7, 30, COMMON)

# --- water ----------------------------------------------------------------------------------

WATER: Final = f"{COMMON}; a fed Aphonopelma hentzi drank about once a week (Stewart & Martin 1970, abstract)"
WATER_INTERVAL: Final[Mapping[tuple[Moisture, Stage], Figure]] = MappingProxyType(
    {
        (Moisture.DRY, Stage.SLING): Figure(4, 3, 7, WATER),
        (Moisture.DRY, Stage.JUVENILE): Figure(7, 5, 10, WATER),
        (Moisture.DRY, Stage.ADULT): Figure(7, 5, 10, WATER),
        (Moisture.DRY, Stage.MATURE_MALE): Figure(7, 5, 10, WATER),
        (Moisture.PART_MOIST, Stage.SLING): Figure(3, 2, 5, WATER),
        (Moisture.PART_MOIST, Stage.JUVENILE): Figure(5, 4, 7, WATER),
        (Moisture.PART_MOIST, Stage.ADULT): Figure(6, 4, 8, WATER),
        (Moisture.PART_MOIST, Stage.MATURE_MALE): Figure(6, 4, 8, WATER),
        (Moisture.MOIST, Stage.SLING): Figure(2, 1, 4, WATER),
        (Moisture.MOIST, Stage.JUVENILE): Figure(4, 2, 5, WATER),
        (Moisture.MOIST, Stage.ADULT): Figure(4, 3, 7, WATER),
        (Moisture.MOIST, Stage.MATURE_MALE): Figure(4, 3, 7, WATER),
    }
)
#: From one refill of the dish to the next, where the substrate is watered apart from it.
DISH_INTERVAL: Final[Mapping[Stage, Figure]] = MappingProxyType(
    {stage: WATER_INTERVAL[Moisture.DRY, stage] for stage in Stage}
)
#: A freshly molted animal has lost water and is watered at least this often.
WATER_WHILE_FRESH: Final = Figure(3, 2, 4, COMMON)

# --- home -----------------------------------------------------------------------------------

FLOOR: Final = (
    f"floor of at least 2 by 2 spans (enviroliteracy.org: 3 by 2; poramorart.ca: 2 to 3); heights: {COMMON}"
)
#: A home is outgrown when its volume in cm³ falls below this many spans cubed.
HOME_SPANS_CUBED: Final[Mapping[Habit, Figure]] = MappingProxyType(
    {
        Habit.TERRESTRIAL: Figure(6.0, 4.5, 15.0, FLOOR),
        Habit.FOSSORIAL: Figure(7.0, 5.0, 16.0, FLOOR),
        Habit.ARBOREAL: Figure(7.0, 5.0, 18.0, FLOOR),
    }
)
#: After so many molts in one home a growing animal is about twice as large as when it moved in.
MOLTS_IN_ONE_HOME: Final = Figure(3, 2, 4, f"growth of about 1.3 a molt gives 2.2 after three; {COMMON}")


def for_span(table: tuple[tuple[float, T], ...], span_cm: float) -> T:
    """The row of a table of (upper bound in cm, value) that a span falls into."""
    for below, value in table:
        if span_cm < below:
            return value
    raise ValueError(f"no row for a span of {span_cm} cm")


def rows_of_spans(table: tuple[tuple[float, T], ...]) -> Iterator[tuple[float, float, T]]:
    """The rows of such a table with both their bounds in cm: from 0, and the last without an end."""
    lower = 0.0
    for below, value in table:
        yield lower, below, value
        lower = below


@lru_cache(maxsize=1024)  # asked for each animal of each round, whose spans are much the same
def first_meal_wait(span_cm: float) -> int:
    """Days from a molt to the first meal of an animal of a span."""
    return for_span(FIRST_MEAL_AFTER_MOLT, span_cm).days
