"""What meals, seals and the keeper's own eye say of premolt: likelihoods of what was seen.

An animal is in premolt for the last part of its cycle. A taken meal speaks against that part having
begun by its day, a refused one for it, and a refusal after a refusal says less than the first: animals
also fast from stress, cold or fullness. So a refusal early in a cycle moves nothing, since premolt
could not have begun by then.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log
from typing import Final

import numpy as np

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.molts.history import OFFERS_LOOKED_AT, Past
from bot.husbandry.normal import Floats
from bot.husbandry.practice import COMMON, Figure
from bot.terms import Habit

#: How likely an offer is refused in premolt, and otherwise; the same after a refusal before it.
REFUSES_IN_PREMOLT: Final = Figure(0.85, 0.6, 0.95, COMMON)
REFUSES_AGAIN_IN_PREMOLT: Final = Figure(0.92, 0.7, 0.98, COMMON)
REFUSES_OTHERWISE: Final = Figure(0.07, 0.02, 0.2, COMMON)
REFUSES_AGAIN_OTHERWISE: Final = Figure(0.35, 0.1, 0.6, COMMON)
#: How many times likelier a seal is to fall into premolt than elsewhere; ground dwellers also seal at rest.
SEAL_ODDS: Final = {
    Habit.FOSSORIAL: Figure(6.0, 2.0, 15.0, COMMON),
    Habit.TERRESTRIAL: Figure(10.0, 4.0, 25.0, COMMON),
    Habit.ARBOREAL: Figure(8.0, 3.0, 20.0, COMMON),
}
#: The same for signs that the keeper noted: a plump dark abdomen, a bald patch gone dark, a silk mat.
SIGNS_ODDS: Final = Figure(20.0, 8.0, 50.0, f"signs by Stewart (exotikeeper); odds: {COMMON}")
#: Premolt as a part of the interval, and how much it scatters in logs. Fasts before a molt last days to
#: weeks in slings, weeks to two months and more in adults: common practice, no source.
PREMOLT_PART: Final = Figure(0.18, 0.08, 0.35, COMMON)
PREMOLT_PART_SD: Final = 0.45
_GUESS_CYCLES: Final = 10.0
_GUESS_OFFERS: Final = 25.0


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
    part = _premolt_part(pasts)
    shelf_rate = _refusal_rate(pasts, REFUSES_OTHERWISE.value)
    ago = np.zeros((len(records), OFFERS_LOOKED_AT + 2))
    odds = np.zeros_like(ago)
    for row, (record, past) in enumerate(zip(records, pasts, strict=True)):
        seen = _offers(past, today, _refusal_rate([past], shelf_rate)) + _noted(record, today)
        for column, (days, log_odds) in enumerate(seen):
            ago[row, column], odds[row, column] = days, log_odds
    return Signs(ago, odds, part)


def _offers(past: Past, today: int, rate: float) -> list[tuple[float, float]]:
    start = past.molts[-1] + 1 if past.molts else past.first
    current = past.offers[bisect_left(past.offers, (start, False)) :]
    seen = []
    before = False
    for day, refused in current:
        in_premolt = (REFUSES_AGAIN_IN_PREMOLT if before else REFUSES_IN_PREMOLT).value
        otherwise = max(REFUSES_AGAIN_OTHERWISE.value, rate) if before else rate
        odds = in_premolt / otherwise if refused else (1.0 - in_premolt) / (1.0 - otherwise)
        seen.append((float(today - day), log(odds)))
        before = refused
    return seen[-OFFERS_LOOKED_AT:]


def _noted(record: SpecimenRecord, today: int) -> list[tuple[float, float]]:
    state = record.state
    seen = []
    if state.sealed_since is not None:
        odds = SEAL_ODDS[record.animal.species.habit].value
        seen.append((float(today - state.sealed_since.toordinal()), log(odds)))
    if state.premolt_since is not None:
        seen.append((float(today - state.premolt_since.toordinal()), log(SIGNS_ODDS.value)))
    return seen


def _refusal_rate(pasts: Sequence[Past], guess: float) -> float:
    """How often a first offer is refused in the first half of a completed cycle, the guess counted in."""
    refused = offered = 0
    for past in pasts:
        for start, end in pairwise(past.molts):
            low = bisect_left(past.offers, (start + 1, False))
            high = bisect_left(past.offers, (start + (end - start) // 2, False))
            before = False
            for _, refusal in past.offers[low:high]:
                if not before:
                    offered += 1
                    refused += refusal
                before = refusal
    rate = (refused + _GUESS_OFFERS * guess) / (offered + _GUESS_OFFERS)
    return min(max(rate, 0.01), 0.6)


def _premolt_part(pasts: Sequence[Past]) -> float:
    """How long a cycle's last run of refusals lasts, as a part of the cycle: a geometric mean.

    Premolt began between the last taken meal and the first refusal after it.
    """
    logs = [_GUESS_CYCLES * log(PREMOLT_PART.value)]
    cycles = 0
    for past in pasts:
        for start, end in pairwise(past.molts):
            part = _last_run(past, start, end)
            if part is not None:
                cycles += 1
                logs.append(log(part))
    found = sum(logs) / (cycles + _GUESS_CYCLES)
    return float(min(max(np.exp(found), PREMOLT_PART.low), PREMOLT_PART.high))


def _last_run(past: Past, start: int, end: int) -> float | None:
    low, high = bisect_left(past.offers, (start + 1, False)), bisect_left(past.offers, (end, False))
    cycle = past.offers[low:high]
    taken = [day for day, refused in cycle if not refused]
    if not taken or end - taken[-1] > 0.6 * (end - start):
        return None
    refusals = [day for day, _ in cycle if day > taken[-1]]
    began = (taken[-1] + refusals[0]) / 2 if refusals else (taken[-1] + end) / 2
    return max(end - began, 1.0) / (end - start)
