"""What to offer an animal, how long a meal lasts it, and when to try again after a refusal."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from math import ceil
from typing import Final

from bot.husbandry import practice
from bot.husbandry.animal import GROWING, Animal
from bot.husbandry.condition import Condition, Found, condition_of
from bot.husbandry.practice import COMMON, Figure, Meal
from bot.husbandry.prey import Prey, prey_of, sizes_of
from bot.husbandry.proportions import mass_of_span
from bot.terms import Stage
from bot.terms.schedule import SlowMonths

#: Prey no longer than the abdomen, which is about a quarter of the span: mm of prey for each cm of span.
PREY_MM_PER_CM: Final = Figure(2.5, 2.0, 3.0, COMMON)
#: The part of its mass that a growing animal may well eat at a meal. Of 5 to 15, 25 to 35 and 45 to 55 %
#: the smallest made lighter spiderlings (Theraphosa; Shillington, SICB abstract 10.4).
USUAL_PART: Final = Figure(0.1, 0.05, 0.35, "Shillington, SICB abstract 10.4")
#: A meal of more than so many times the usual one is a big one; the gap after it grows with it, up to
#: a limit. That bigger meals make longer gaps: trade practice; the figures: common practice, no source.
BIG_MEAL: Final = Figure(1.4, 1.2, 2.0, COMMON)
LONGEST_GAP: Final = Figure(2.0, 1.5, 3.0, COMMON)
_MATURE_MALE: Final = Stage.MATURE_MALE
#: A mature male gets a small offer from this span on, in cm; a smaller one what goes with its span.
_SMALL_OFFER_FROM_CM: Final = 7
#: Up to so many of one kind are offered at once.
_MOST_AT_ONCE: Final = 3


def meal_for(animal: Animal, on: date) -> Meal:
    """What to offer: the staple it took last, in the size and number that go with its span.

    Less for one that was found very fat, and for a mother with a sac, who is to be disturbed little (common
    practice, no source); a thin one gets no larger prey, since that should be no longer than the abdomen,
    but gets it sooner.
    """
    if animal.state.sac_since is not None:
        return _less(_by_span(animal))
    meal, found = _by_span(animal), condition_of(animal, animal.state.last_fed or on)
    return _less(meal) if found is not None and found.condition is Condition.FAT else meal


def _less(meal: Meal) -> Meal:
    """One of them fewer, or the next smaller size where there is but one."""
    if meal.count > 1:
        return Meal(meal.prey, meal.size, meal.count - 1)
    sizes = [prey.size for prey in sizes_of(meal.prey)]
    at = sizes.index(meal.size) if meal.size in sizes else 0
    return Meal(meal.prey, sizes[at - 1], 1) if at else meal


def _by_span(animal: Animal) -> Meal:
    meal, mass_mg = _crickets_for(animal)
    last = animal.state.last_prey
    if last not in practice.STAPLES or last == meal.prey:
        return meal
    fits = fitting_sizes(last, animal)
    if not fits:
        return Meal(last, meal.size, meal.count) if not sizes_of(last) else meal
    largest = fits[-1]
    count = min(max(round(mass_mg / largest.mass_mg), 1), _MOST_AT_ONCE)
    return Meal(last, largest.size, count)


def _crickets_for(animal: Animal) -> tuple[Meal, float]:
    return _crickets(animal.span_cm, animal.stage is _MATURE_MALE)


@lru_cache(maxsize=1024)  # asked for each animal of each round, whose spans are much the same
def _crickets(span_cm: float, is_mature_male: bool) -> tuple[Meal, float]:
    """The crickets that go with a span, and what they weigh together in mg."""
    is_small_offer = is_mature_male and span_cm >= _SMALL_OFFER_FROM_CM
    meal = practice.MALE_MEAL if is_small_offer else practice.for_span(practice.MEALS, span_cm)
    prey = prey_of(meal.prey, meal.size)
    assert prey is not None  # the tables of meals and of prey are kept together by a test
    return meal, prey.mass_mg * meal.count


def usual_meal_mg(animal: Animal) -> float:
    """The mass of the meal in mg that goes with an animal of its span, stage and weight."""
    part = USUAL_PART.value * 1000.0 * body_mass_g(animal) if animal.stage in GROWING else 0.0
    return max(_crickets_for(animal)[1], part)


def last_meal_mg(animal: Animal) -> float | None:
    """What its last meal weighed in mg, for each animal of a lot; ``None`` where too little was said.

    Where no size was said, the prey is taken to have been of the size that goes with its span.
    """
    state = animal.state
    if state.last_prey is None or state.last_prey_count is None:
        return None
    prey = prey_of(state.last_prey, state.last_prey_size) if state.last_prey_size else _fitting(animal)
    return None if prey is None else prey.mass_mg * state.last_prey_count / max(1, state.lot_size)


def longest_prey_mm(span_cm: float) -> float:
    """How long prey may be in mm: no longer than the abdomen of an animal of a span."""
    return PREY_MM_PER_CM.value * span_cm


def sizes_for_span(kind: str, span_cm: float) -> list[Prey]:
    """The sizes of a feeder that are short enough for a span, small ones first."""
    return [prey for prey in sizes_of(kind) if prey.length_mm <= longest_prey_mm(span_cm)]


def fitting_sizes(kind: str, animal: Animal) -> list[Prey]:
    """The sizes of a feeder that are short enough for an animal, small ones first."""
    return sizes_for_span(kind, animal.span_cm)


def _fitting(animal: Animal) -> Prey | None:
    kind = animal.state.last_prey or ""
    meal, _ = _crickets_for(animal)
    if kind == meal.prey:
        return prey_of(kind, meal.size)
    fits = fitting_sizes(kind, animal)
    return fits[-1] if fits else None


def body_mass_g(animal: Animal) -> float:
    """Its mass in g: weighed since its last molt, else by its span."""
    state = animal.state
    weighed = state.weight_g is not None and state.weight_on is not None
    if weighed and (state.last_molted is None or (state.weight_on or state.last_molted) >= state.last_molted):
        return float(state.weight_g or 0)
    return mass_of_span(animal.span_cm)


def usual_gap(animal: Animal, found: Found | None) -> float:
    """Days from a meal to the next by stage, pace and condition."""
    figure = practice.FEEDING_INTERVAL[animal.stage, animal.species.pace]
    if found is None:
        return figure.value
    if found.condition is Condition.THIN:
        return figure.low
    return figure.high * (practice.FAT_GAPS.value if found.condition is Condition.FAT else 1.0)


def gap_factor(animal: Animal) -> float:
    """How many times the usual gap its last meal lasts: 1 for a usual or a small one, more for a big one."""
    eaten = last_meal_mg(animal)
    if eaten is None:
        return 1.0
    times = eaten / usual_meal_mg(animal)
    return min(times, LONGEST_GAP.value) if times > BIG_MEAL.value else 1.0


def slowed_days(days: int, since: date, slow: SlowMonths) -> int:
    """Days from ``since`` on that so many usual days make where a day of the slow months counts for less.

    So a gap that reaches into such a month, or out of it, is longer by the part that lies within.
    """
    left, day = float(days), since
    while True:
        times = practice.SLOW_MONTHS.value if day.month in slow else 1.0
        following = (day.replace(day=1) + timedelta(days=32)).replace(day=1)
        here = (following - day).days
        if left * times <= here:
            return (day - since).days + ceil(left * times)
        left -= here / times
        day = following


def retry_days(stage: Stage, premolt: float) -> int:
    """Days from a refused meal to the next try: the likelier premolt is, the longer it is left alone."""
    figure = practice.RETRY[stage]
    return round(figure.low + (figure.high - figure.low) * premolt)
