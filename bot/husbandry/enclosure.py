"""The home that goes with an animal, when it will be outgrown, and when to move it.

Lengths in cm, holes in mm, volumes in litres. Terrestrial kinds fall, so they get floor and little height;
diggers get depth, climbers height.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Final

from bot.husbandry import practice
from bot.husbandry.animal import Animal
from bot.husbandry.practice import COMMON, PREMOLT_PART, Figure
from bot.husbandry.premolt import PROBABLY, premolt_chance
from bot.husbandry.proportions import carapace_of_span
from bot.terms import Habit
from bot.terms.lengths import days_long

FLOOR: Final = (
    f"enviroliteracy.org: 3 by 2 spans (weak source); poramorart.ca: 2 to 3 (weak source); {COMMON}"
)
#: Floor, in spans.
FLOOR_LENGTH: Final[Mapping[Habit, Figure]] = MappingProxyType(
    {
        Habit.TERRESTRIAL: Figure(3.0, 2.0, 3.5, FLOOR),
        Habit.FOSSORIAL: Figure(3.0, 2.0, 3.5, FLOOR),
        Habit.ARBOREAL: Figure(2.0, 2.0, 3.0, COMMON),
    }
)
FLOOR_WIDTH: Final = Figure(2.0, 2.0, 3.0, FLOOR)
#: Depth of the substrate, in spans.
SUBSTRATE: Final[Mapping[Habit, Figure]] = MappingProxyType(
    {
        Habit.TERRESTRIAL: Figure(0.75, 0.5, 1.0, COMMON),
        Habit.FOSSORIAL: Figure(1.75, 1.5, 2.5, COMMON),
        Habit.ARBOREAL: Figure(0.5, 0.3, 0.75, COMMON),
    }
)
#: From the substrate to the lid, in spans: for ground dwellers at most the high figure, since a fall
#: ruptures the abdomen; for climbers at least the low one.
HEADROOM: Final[Mapping[Habit, Figure]] = MappingProxyType(
    {
        Habit.TERRESTRIAL: Figure(1.25, 1.0, 1.5, f"falls: several weak sources; {COMMON}"),
        Habit.FOSSORIAL: Figure(0.9, 0.75, 1.5, f"falls: several weak sources; {COMMON}"),
        Habit.ARBOREAL: Figure(3.0, 3.0, 4.0, COMMON),
    }
)
#: Air holes in mm for large animals, and for small ones as a part of the carapace.
WIDEST_HOLE_MM: Final = Figure(4.0, 2.0, 4.0, f"howdo107 (weak source); {COMMON}")
HOLE_PART: Final = Figure(0.7, 0.5, 0.9, f"smaller than the carapace: {COMMON}")
#: A move is best within so many days of the first meal after a molt.
MOVE_WITHIN: Final = Figure(21, 7, 21, f"one to three weeks after a molt has hardened: {COMMON}")
#: Whoever took a meal so lately eats.
EATS_WITHIN: Final = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Home:
    """A home for an animal of one span. ``headroom_cm`` is from substrate to lid.

    ``volume_l`` is the whole of it, ``least_l`` the volume below which it is outgrown.
    """

    length_cm: float
    width_cm: float
    substrate_cm: float
    headroom_cm: float
    volume_l: float
    least_l: float
    hole_mm: float


@dataclass(frozen=True, slots=True)
class MovingWindow:
    """The days on which a move does least harm; ``after_molt`` where that is only after the next molt."""

    first: date
    last: date
    after_molt: bool


def home_for(habit: Habit, span_cm: float) -> Home:
    """The home that suits a span."""
    length, width = FLOOR_LENGTH[habit].value * span_cm, FLOOR_WIDTH.value * span_cm
    substrate, headroom = substrate_for(habit, span_cm), HEADROOM[habit].value * span_cm
    return Home(
        length_cm=length,
        width_cm=width,
        substrate_cm=substrate,
        headroom_cm=headroom,
        volume_l=length * width * (substrate + headroom) / 1000.0,
        least_l=least_volume_l(habit, span_cm),
        hole_mm=min(WIDEST_HOLE_MM.value, HOLE_PART.value * carapace_of_span(span_cm)),
    )


def substrate_for(habit: Habit, span_cm: float) -> float:
    """The depth of substrate in cm that suits a span."""
    return SUBSTRATE[habit].value * span_cm


def least_volume_l(habit: Habit, span_cm: float) -> float:
    """The volume in litres below which an animal of a span has outgrown its home."""
    return practice.HOME_SPANS_CUBED[habit].value * span_cm**3 / 1000.0


def outgrown_at_cm(habit: Habit, volume_l: float) -> float:
    """The span in cm from which a home of so many litres is outgrown."""
    return float((volume_l * 1000.0 / practice.HOME_SPANS_CUBED[habit].value) ** (1.0 / 3.0))


def moving_window(animal: Animal, next_molt: tuple[date, ...] | None, on: date) -> MovingWindow | None:
    """When to move an animal: clear of premolt and of soft cuticle; ``None`` where nothing stands against it.

    ``next_molt`` are the days of the next molt at 5, 25, 50, 75 and 95 %; ``None`` for a mature male.
    """
    hard = days_long(practice.first_meal_wait(animal.span_cm))
    state, within = animal.state, timedelta(days=MOVE_WITHIN.days)
    soft_until = state.last_molted + hard if state.last_molted and not state.eaten_since_molt else None
    first = max(on, soft_until) if soft_until is not None else on
    if next_molt is None:
        return None if first == on else MovingWindow(first, first + within, after_molt=False)
    cycle = (next_molt[2] - (state.last_molted or on)).days
    last = next_molt[1] - timedelta(days=round(PREMOLT_PART.value * cycle))
    if near_a_molt(animal, on) or last < first:
        return MovingWindow(next_molt[2] + hard, next_molt[2] + hard + within, after_molt=True)
    return MovingWindow(first, last, after_molt=False)


def near_a_molt(animal: Animal, on: date) -> bool:
    """Sealed, in premolt by the keeper's eye, or likely so by its record: not to be moved.

    One that eats is not taken to be, however long its last molt on record is ago.
    """
    state = animal.state
    if state.sealed_since is not None or state.premolt_since is not None:
        return True
    fasts = state.refusals > 0 or (state.last_fed is not None and on - state.last_fed > EATS_WITHIN)
    return fasts and premolt_chance(animal, on) >= PROBABLY
