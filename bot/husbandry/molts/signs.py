"""What meals, seals and the keeper's own eye say of premolt: likelihoods of what was seen.

An animal is in premolt for the last part of its cycle. A taken meal speaks against that part having
begun by its day, a refused one for it, and each further refusal of a run says less than the one before:
animals also fast from stress, cold or fullness, and a fast goes on. So a refusal early in a cycle moves
nothing, since premolt could not have begun by then. How often animals refuse, and seal themselves in,
outside of premolt is learned from the shelf's completed cycles, the general figure counted in.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log
from typing import Final

import numpy as np

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.molts.history import OFFERS_LOOKED_AT, Past
from bot.husbandry.normal import Floats
from bot.husbandry.practice import COMMON, PREMOLT_PART, REFUSES_IN_PREMOLT, REFUSES_OTHERWISE, Figure
from bot.terms import Habit, Kind

Sign = tuple[Kind, Habit]

#: How many times likelier a seal is to fall into premolt than elsewhere; ground dwellers also seal at rest.
SEAL_ODDS: Final = {
    Habit.FOSSORIAL: Figure(6.0, 2.0, 15.0, COMMON),
    Habit.TERRESTRIAL: Figure(10.0, 4.0, 25.0, COMMON),
    Habit.ARBOREAL: Figure(8.0, 3.0, 20.0, COMMON),
}
#: The same for signs that the keeper noted: a plump dark abdomen, a bald patch gone dark, a silk mat.
SIGNS_ODDS: Final = Figure(20.0, 8.0, 50.0, f"signs by Stewart (exotikeeper); odds: {COMMON}")
#: How much premolt's part of an interval scatters, in logs.
PREMOLT_PART_SD: Final = 0.45
#: Lengths of premolt that are tried, as parts of the interval; how many cycles of an animal they are tried
#: on, and of a large shelf.
_SHORTEST_PART, _LONGEST_PART, _PARTS = 0.03, 0.6, 31
_CYCLES_EACH: Final = 6
_CYCLES_LOOKED_AT: Final = 600
_GUESS_CYCLES: Final = 10.0
_GUESS_OFFERS: Final = 25.0
_GUESS_SIGNS: Final = 4.0
_MOST_ODDS: Final = 60.0


@dataclass(frozen=True, slots=True)
class Signs:
    """What was seen in the current cycle, for a whole shelf.

    ``ago`` (n, m) are days since each thing was seen, ``log_odds`` (n, m) how much likelier it is in
    premolt than elsewhere; unused places have odds 0. ``part`` is the length of premolt as a part of
    the interval, learned from the shelf.
    """

    ago: Floats
    log_odds: Floats
    part: float


def signs_of(records: Sequence[SpecimenRecord], pasts: Sequence[Past], today: int) -> Signs:
    """The signs of every animal on a day, an ordinal."""
    shelf_rates = _refusal_rates(pasts, tuple(figure.value for figure in REFUSES_OTHERWISE))
    part = _premolt_part(pasts, shelf_rates)
    placed = _signs_placed(records, pasts, part)
    ago = np.zeros((len(records), OFFERS_LOOKED_AT + 2))
    odds = np.zeros_like(ago)
    for row, (record, past) in enumerate(zip(records, pasts, strict=True)):
        seen = _offers(past, today, _refusal_rates([past], shelf_rates)) + _noted(record, today, placed, part)
        for column, (days, log_odds) in enumerate(seen):
            ago[row, column], odds[row, column] = days, log_odds
    return Signs(ago, odds, part)


# -- offers ---------------------------------------------------------------------------------------


def _offers(past: Past, today: int, rates: Sequence[float]) -> list[tuple[float, float]]:
    start = past.molts[-1] + 1 if past.molts else past.first
    seen = []
    for day, refused, run in _runs(past.offers[bisect_left(past.offers, (start, False)) :]):
        seen.append((float(today - day), _log_odds(refused, run, rates)))
    return seen[-OFFERS_LOOKED_AT:]


def _log_odds(refused: bool, run: int, rates: Sequence[float]) -> float:
    """How much likelier an offer's outcome is in premolt than otherwise, after so many refusals."""
    in_premolt, otherwise = REFUSES_IN_PREMOLT[run].value, rates[run]
    return log(in_premolt / otherwise if refused else (1.0 - in_premolt) / (1.0 - otherwise))


def _runs(offers: Iterable[tuple[int, bool]]) -> Iterator[tuple[int, bool, int]]:
    """Each offer with the refusals right before it, at most two counted."""
    run = 0
    for day, refused in offers:
        yield day, refused, run
        run = min(run + 1, len(REFUSES_OTHERWISE) - 1) if refused else 0


def _refusal_rates(pasts: Sequence[Past], guesses: Sequence[float]) -> tuple[float, ...]:
    """How often offers are refused in the first half of completed cycles, by the refusals before them."""
    refused, offered = [0] * len(guesses), [0] * len(guesses)
    for past in pasts:
        for start, end in pairwise(past.molts):
            low = bisect_left(past.offers, (start + 1, False))
            high = bisect_left(past.offers, (start + (end - start) // 2, False))
            for _, refusal, run in _runs(past.offers[low:high]):
                offered[run] += 1
                refused[run] += refusal
    return tuple(
        min(max((r + _GUESS_OFFERS * guess) / (n + _GUESS_OFFERS), 0.01), 0.85)
        for r, n, guess in zip(refused, offered, guesses, strict=True)
    )


# -- seals and signs noted ------------------------------------------------------------------------


def _noted(
    record: SpecimenRecord, today: int, placed: Mapping[Sign, tuple[int, int]], part: float
) -> list[tuple[float, float]]:
    state, habit = record.state, record.animal.species.habit
    seen = []
    for kind, since, figure in (
        (Kind.SEALED, state.sealed_since, SEAL_ODDS[habit]),
        (Kind.PREMOLT, state.premolt_since, SIGNS_ODDS),
    ):
        if since is not None:
            odds = _learned(figure.value, placed.get((kind, habit), (0, 0)), part)
            seen.append((float(today - since.toordinal()), log(odds)))
    return seen


def _signs_placed(
    records: Sequence[SpecimenRecord], pasts: Sequence[Past], part: float
) -> Mapping[Sign, tuple[int, int]]:
    """For each sign and habit, how many fell into the last part of a completed cycle, and how many not.

    Twice the mean part counts as late, since premolt's length scatters.
    """
    placed: dict[Sign, tuple[int, int]] = {}
    for record, past in zip(records, pasts, strict=True):
        for day, kind in past.signs:
            after = bisect_left(past.molts, day)
            if 0 < after < len(past.molts):
                start, end = past.molts[after - 1], past.molts[after]
                late = end - day <= 2.0 * part * (end - start)
                sign = kind, record.animal.species.habit
                inside, outside = placed.get(sign, (0, 0))
                placed[sign] = inside + late, outside + (not late)
    return placed


def _learned(odds: float, placed: tuple[int, int], part: float) -> float:
    """How many times likelier a sign is in premolt than elsewhere, a general figure counted in."""
    inside, outside = placed
    guess = odds * part / (odds * part + 1.0 - part)
    share = (inside + _GUESS_SIGNS * guess) / (inside + outside + _GUESS_SIGNS)
    return float(min(max(share / max(1.0 - share, 1e-6) * (1.0 - part) / part, 1.0), _MOST_ODDS))


# -- how long premolt lasts -----------------------------------------------------------------------


def _premolt_part(pasts: Sequence[Past], rates: Sequence[float]) -> float:
    """The mean part of a cycle that premolt takes up: a geometric mean, from completed cycles' offers.

    For each cycle the likelihood of what was taken and refused, were premolt so and so long; averaged
    over how premolt scatters from cycle to cycle; times what is known in general, as good as
    ``_GUESS_CYCLES`` cycles.
    """
    logs = np.linspace(log(_SHORTEST_PART), log(_LONGEST_PART), _PARTS)
    scatter = np.exp(-0.5 * ((logs[:, None] - logs[None, :]) / PREMOLT_PART_SD) ** 2)
    scatter /= scatter.sum(axis=1, keepdims=True)
    known = -0.5 * _GUESS_CYCLES * ((logs - log(PREMOLT_PART.value)) / PREMOLT_PART_SD) ** 2
    cycles = _cycle_likelihoods(pasts, rates, np.exp(logs))
    found = known + np.log(np.exp(cycles) @ scatter.T).sum(axis=0)
    weights = np.exp(found - found.max())
    part = np.exp((weights * logs).sum() / weights.sum())
    return float(min(max(part, PREMOLT_PART.low), PREMOLT_PART.high))


def _cycle_likelihoods(pasts: Sequence[Past], rates: Sequence[float], parts: Floats) -> Floats:
    """(cycles, parts): the log likelihood of a cycle's offers, 0 at best; the newest cycles alone."""
    left: list[float] = []
    odds: list[float] = []
    cycle: list[int] = []
    count = 0
    each = min(max(_CYCLES_LOOKED_AT // max(len(pasts), 1), 1), _CYCLES_EACH)
    for past in pasts:
        for start, end in list(pairwise(past.molts))[-each:]:
            low, high = bisect_left(past.offers, (start + 1, False)), bisect_left(past.offers, (end, False))
            if low == high:
                continue
            for day, refused, run in _runs(past.offers[low:high]):
                left.append((end - day) / (end - start))
                odds.append(_log_odds(refused, run, rates))
                cycle.append(count)
            count += 1
    in_it = np.array(left)[:, None] < parts[None, :] if left else np.zeros((0, len(parts)), dtype=bool)
    out = np.zeros((count, len(parts)))
    np.add.at(out, np.array(cycle, dtype=np.int64), np.where(in_it, np.array(odds)[:, None], 0.0))
    return np.asarray(out - out.max(axis=1, keepdims=True)) if count else out
