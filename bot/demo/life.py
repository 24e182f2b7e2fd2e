"""The stretches of a simulated animal's life: when it is left in peace, and when it moved house."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from random import Random
from types import MappingProxyType
from typing import Final

from bot.demo.animals import Resident, Scene
from bot.demo.molts import Cycle, cycles_of, hardening_days
from bot.husbandry import practice
from bot.terms import Habit

#: (span in cm below which it serves, litres): homes that keepers use. Common practice, no source.
HOMES_L: Final[tuple[tuple[float, float], ...]] = (
    (2.5, 0.25),
    (4.5, 1.2),
    (7.5, 5.0),
    (10.5, 12.0),
    (14.5, 24.0),
    (float("inf"), 42.0),
)
#: Depth of substrate in spans: common practice, no source.
SUBSTRATE_SPANS: Final[Mapping[Habit, float]] = MappingProxyType(
    {Habit.FOSSORIAL: 1.8, Habit.TERRESTRIAL: 0.8, Habit.ARBOREAL: 0.4}
)
_PAIRED_BEFORE_SAC: Final = 80
_SAC_SINCE: Final = (16, 28)


@dataclass(frozen=True, slots=True)
class Move:
    """A new home on a day: its volume in litres, and how deep its substrate is in cm."""

    day: int
    volume_l: float
    substrate_cm: float


@dataclass(frozen=True, kw_only=True)
class Life:
    """What is fixed of an animal's life before a keeper does anything. Days are ordinals.

    ``rests`` are the stretches with no food, as (first day, first day after), in order and apart.
    """

    resident: Resident
    first: int
    last: int
    cycles: tuple[Cycle, ...]
    moves: tuple[Move, ...]
    rests: tuple[tuple[int, int], ...]
    paired_on: int | None = None
    sac_on: int | None = None

    def cycle_at(self, day: int) -> Cycle:
        """The molt cycle that a day lies in."""
        return self.cycles[max(0, bisect_right(self.cycles, day, key=lambda cycle: cycle.molted) - 1)]

    def peace_until(self, day: int) -> int | None:
        """The first day on which food may go in again; ``None`` if that is this day."""
        index = bisect_right(self.rests, day, key=lambda rest: rest[0]) - 1
        return self.rests[index][1] if index >= 0 and day < self.rests[index][1] else None


def life_of(resident: Resident, rng: Random, *, start: int, end: int) -> Life:
    """The life of an animal on the shelf, from ``start`` or the day it came, to ``end``."""
    first = start if resident.on_shelf_days is None else max(start, end - resident.on_shelf_days)
    cycles = tuple(cycles_of(resident, rng, start=first, end=end))
    if resident.specimen.lot_size > 1:
        cycles = (_molts_unseen(cycles[-1], first),)
    moves = tuple(_moves(resident, rng, cycles, first, end))
    sac_on = end - rng.randint(*_SAC_SINCE) if resident.scene is Scene.SAC else None
    return Life(
        resident=resident,
        first=first,
        last=end,
        cycles=cycles,
        moves=moves,
        rests=_joined(_rests(cycles, moves, sac_on, end)),
        paired_on=None if sac_on is None else sac_on - _PAIRED_BEFORE_SAC,
        sac_on=sac_on,
    )


def _molts_unseen(cycle: Cycle, first: int) -> Cycle:
    """The one cycle of a lot: nobody can tell which of its animals molts when."""
    long_ago = first - hardening_days(cycle.span_cm)
    return replace(cycle, molted=long_ago, eats_from=first, premolt_on=None, sealed_on=None, ends=None)


def _moves(resident: Resident, rng: Random, cycles: tuple[Cycle, ...], first: int, end: int) -> list[Move]:
    """Its first home if it came within the records; later one after each molt that outgrew the home."""
    moves = []
    if resident.on_shelf_days is not None and first == end - resident.on_shelf_days:
        moves.append(_move(resident, first, _cycle_on(cycles, first).span_cm))
    for before, after in pairwise(cycles):
        outgrown = _home(before.span_cm) < _home(after.span_cm)
        day = after.eats_from + rng.randint(2, 8)
        if outgrown and first < day <= end - 20 and day < (after.premolt_on or end) - 8:
            moves.append(_move(resident, day, after.span_cm))
    if resident.scene is Scene.SETTLING:
        moves.append(_move(resident, end - 2, cycles[-1].span_cm))
    return moves


def _move(resident: Resident, day: int, span_cm: float) -> Move:
    return Move(day, _home(span_cm), round(max(3.0, SUBSTRATE_SPANS[resident.specimen.habit] * span_cm)))


def _home(span_cm: float) -> float:
    return practice.for_span(HOMES_L, span_cm)


def _cycle_on(cycles: tuple[Cycle, ...], day: int) -> Cycle:
    return next((cycle for cycle in reversed(cycles) if cycle.molted <= day), cycles[0])


def _rests(
    cycles: tuple[Cycle, ...], moves: tuple[Move, ...], sac_on: int | None, end: int
) -> list[tuple[int, int]]:
    settling = round(practice.SETTLING_AFTER_REHOUSING.high)
    rests = [(cycle.molted, cycle.eats_from) for cycle in cycles]
    rests += [(cycle.sealed_on, cycle.ends) for cycle in cycles if cycle.sealed_on and cycle.ends]
    rests += [(move.day, move.day + settling) for move in moves]
    if sac_on is not None:
        rests.append((sac_on, end + 1))
    return sorted(rests)


def _joined(rests: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    joined: list[tuple[int, int]] = []
    for start, stop in rests:
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(stop, joined[-1][1]))
        else:
            joined.append((start, stop))
    return tuple(joined)
