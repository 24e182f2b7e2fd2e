"""When a simulated animal molted: its molt cycles, worked out backwards from how it is today.

Days are ordinals (``date.toordinal``), so that a long life is quick to work out.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from types import MappingProxyType
from typing import Final

from bot.demo.animals import Resident, Scene, stage_at
from bot.husbandry import practice
from bot.husbandry.species import Pace
from bot.terms import Habit, Stage

Range = tuple[float, float]

_INF: Final = float("inf")
#: Days from molt to molt: (span in cm below which it holds, range) for growing animals.
#: Common practice, no source; the implied intervals of Brachypelma baumgarteni slings (61 and 71
#: days; CEC educator sheet "Tarantula growth and development") lie inside.
MOLT_INTERVAL: Final[Mapping[Pace, tuple[tuple[float, Range], ...]]] = MappingProxyType(
    {
        Pace.FAST: ((2, (21, 45)), (5, (40, 75)), (10, (75, 150)), (_INF, (120, 240))),
        Pace.MEDIUM: ((2, (30, 60)), (5, (60, 120)), (10, (120, 240)), (_INF, (180, 330))),
        Pace.SLOW: ((2, (45, 75)), (5, (75, 150)), (10, (150, 300)), (_INF, (270, 420))),
    }
)
#: The same for adult females: common practice, no source.
ADULT_MOLT_INTERVAL: Final[Mapping[Pace, Range]] = MappingProxyType(
    {Pace.FAST: (270, 450), Pace.MEDIUM: (330, 540), Pace.SLOW: (365, 730)}
)
#: How much the span grows at a molt. Growing: around the ×1.38 measured in Grammostola vachoni
#: (Zool. Anz. 293:37-45, 2021) and the usual ×1.2 to ×1.3; adults: common practice, no source.
GROWTH: Final[Range] = (1.18, 1.38)
ADULT_GROWTH: Final[Range] = (1.01, 1.05)
#: Days from the first signs to the molt, by stage: common practice, no source.
PREMOLT: Final[Mapping[Stage, Range]] = MappingProxyType(
    {Stage.SLING: (6, 14), Stage.JUVENILE: (12, 30), Stage.ADULT: (25, 60), Stage.MATURE_MALE: (12, 30)}
)
#: How likely an animal shuts itself in before a molt: common practice, no source.
SEALS: Final[Mapping[Habit, float]] = MappingProxyType(
    {Habit.FOSSORIAL: 0.9, Habit.ARBOREAL: 0.3, Habit.TERRESTRIAL: 0.25}
)
#: Premolt is never more than this part of a cycle: slings have short ones.
_PREMOLT_PART: Final = 0.3
#: A mother lays well between two molts.
_SAC_AT: Final = 0.6
_SINCE_ULTIMATE_MOLT: Final[Range] = (60, 240)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cycle:
    """From one molt to the next. ``premolt_on`` is the day of the first signs, ``ends`` the next molt.

    Food goes in from ``eats_from`` on. ``sealed_on`` is set where it shuts itself in.
    A mature male has no next molt: the three are ``None``.
    """

    molted: int
    span_cm: float
    stage: Stage
    eats_from: int
    premolt_on: int | None = None
    sealed_on: int | None = None
    ends: int | None = None

    def in_premolt(self, day: int) -> bool:
        """Whether the signs of the next molt show on a day of this cycle."""
        return self.premolt_on is not None and day >= self.premolt_on


def cycles_of(resident: Resident, rng: Random, *, start: int, end: int) -> list[Cycle]:
    """The cycles that touch the days from ``start`` to ``end``, oldest first.

    The span of the last one is the animal's span of today; the first may have begun before ``start``.
    """
    cycle = _todays_cycle(resident, rng, end)
    cycles = [cycle]
    while cycle.molted > start:
        cycle = _cycle_before(resident, rng, cycle)
        cycles.append(cycle)
    return cycles[::-1]


def interval_range(pace: Pace, stage: Stage, span_cm: float) -> Range:
    """The days from one molt to the next that are usual for an animal of this stage and span."""
    if stage is Stage.ADULT:
        return ADULT_MOLT_INTERVAL[pace]
    return practice.for_span(MOLT_INTERVAL[pace], span_cm)


def hardening_days(span_cm: float) -> int:
    """How long a fresh molt of this span gets no food: the longest wait that keepers give it."""
    return round(practice.for_span(practice.FIRST_MEAL_AFTER_MOLT, span_cm).high)


@dataclass(frozen=True, slots=True)
class _Course:
    """How a cycle goes, in days: its length, and how long before its end the signs and the sealing come."""

    length: int
    premolt: int
    shut: int | None


def _todays_cycle(resident: Resident, rng: Random, end: int) -> Cycle:
    span = float(resident.specimen.span_cm or 1)
    stage = stage_at(resident, span)
    if stage is Stage.MATURE_MALE:
        molted = end - round(rng.uniform(*_SINCE_ULTIMATE_MOLT))
        return Cycle(molted=molted, span_cm=span, stage=stage, eats_from=molted + hardening_days(span))
    course = _course(resident, rng, span, stage, resident.scene)
    return _cycle(end - _age_today(resident.scene, rng, course, hardening_days(span)), span, stage, course)


def _age_today(scene: Scene, rng: Random, course: _Course, hard: int) -> int:
    """How many days ago it molted, so that its scene is so today."""
    if scene is Scene.FRESH_MOLT:
        return rng.randint(1, max(1, hard // 2))
    if scene is Scene.SEALED:
        return course.length - rng.randint(1, max(1, (course.shut or course.premolt) - 2))
    if scene is Scene.PREMOLT:
        return course.length - rng.randint(1, max(1, course.premolt - 4))
    if scene is Scene.SAC:
        return round(course.length * _SAC_AT)
    return rng.randint(hard + 6, max(hard + 6, course.length - course.premolt - 4))


def _cycle_before(resident: Resident, rng: Random, later: Cycle) -> Cycle:
    grown = later.stage is Stage.ADULT
    span = round(later.span_cm / rng.uniform(*(ADULT_GROWTH if grown else GROWTH)), 1)
    stage = stage_at(resident, span)
    if stage is Stage.MATURE_MALE:
        stage = Stage.JUVENILE
    course = _course(resident, rng, span, stage, Scene.PLAIN)
    return _cycle(later.molted - course.length, span, stage, course)


def _cycle(molted: int, span: float, stage: Stage, course: _Course) -> Cycle:
    ends = molted + course.length
    return Cycle(
        molted=molted,
        span_cm=span,
        stage=stage,
        eats_from=molted + hardening_days(span),
        premolt_on=ends - course.premolt,
        sealed_on=None if course.shut is None else ends - course.shut,
        ends=ends,
    )


def _course(resident: Resident, rng: Random, span: float, stage: Stage, scene: Scene) -> _Course:
    length = round(rng.uniform(*interval_range(resident.species.pace, stage, span)))
    premolt = max(5, min(round(rng.uniform(*PREMOLT[stage])), round(length * _PREMOLT_PART)))
    shut = max(4, round(premolt * rng.uniform(0.5, 0.8)))
    seals = scene is Scene.SEALED or (
        scene is not Scene.PREMOLT and rng.random() < SEALS[resident.specimen.habit]
    )
    return _Course(length, premolt, shut if seals else None)
