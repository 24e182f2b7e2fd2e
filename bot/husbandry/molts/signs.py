"""What meals, seals and the keeper's own eye say of premolt: likelihoods of what was seen.

An animal is in premolt for the last part of its cycle. A taken meal speaks against that part having
begun by its day, a refused one for it, and each further refusal of a run says less than the one before:
animals also fast from stress, cold or fullness, and a fast goes on. So a refusal early in a cycle moves
nothing, since premolt could not have begun by then. How often animals refuse, and seal themselves in,
outside of premolt is learned from the shelf's completed cycles, the general figure counted in.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import log
from typing import Final

import numpy as np

from bot.husbandry.molts.history import Past
from bot.husbandry.molts.series import Series, ranges
from bot.husbandry.normal import Floats, Ints
from bot.husbandry.outlook_record import OutlookRecord
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
#: Offers of the current cycle that are looked at, the newest.
_OFFERS_LOOKED_AT: Final = 14
#: The chances of a refusal by the refusals before it, as arrays.
_IN_PREMOLT: Final = np.array([figure.value for figure in REFUSES_IN_PREMOLT])
_OTHERWISE: Final = np.array([figure.value for figure in REFUSES_OTHERWISE])
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


def signs_of(records: Sequence[OutlookRecord], pasts: Sequence[Past], offers: Series, today: int) -> Signs:
    """The signs of every animal on a day, an ordinal."""
    refused, offered = _refusals(pasts, offers)
    shelf_rates = _rates(refused.sum(axis=0), offered.sum(axis=0), _OTHERWISE)
    part = _premolt_part(pasts, offers, shelf_rates)
    placed = _signs_placed(records, pasts, part)
    ago = np.zeros((len(records), _OFFERS_LOOKED_AT + 2))
    odds = np.zeros_like(ago)
    _place_offers(pasts, offers, today, _rates(refused, offered, shelf_rates), (ago, odds))
    for row, record in enumerate(records):
        for column, (days, log_odds) in enumerate(_noted(record, today, placed, part), _OFFERS_LOOKED_AT):
            ago[row, column], odds[row, column] = days, log_odds
    return Signs(ago, odds, part)


# -- offers ---------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Offered:
    """Offers of some stretches: the stretch, and of each offer its place, outcome and refusals right before.

    At most two of those, the offers of the stretch alone, are counted.
    """

    stretch: Ints
    place: Ints
    refused: Ints
    run: Ints

    @classmethod
    def between(cls, offers: Series, low: Ints, high: Ints) -> _Offered:
        """The offers of stretches from one place up to another."""
        stretch, place = ranges(low, high)
        outcome = offers.value.astype(np.int64)
        run, so_far = np.zeros_like(place), np.ones_like(place)
        for back in range(1, len(_OTHERWISE)):
            so_far = so_far * np.where(place - back >= low[stretch], outcome[np.maximum(place - back, 0)], 0)
            run += so_far
        return cls(stretch, place, outcome[place], run)

    def log_odds(self, otherwise: Floats) -> Floats:
        """How much likelier each outcome is in premolt than otherwise, by how often each is refused then."""
        in_premolt = _IN_PREMOLT[self.run]
        refused = np.log(in_premolt / otherwise)
        return np.where(self.refused, refused, np.log((1.0 - in_premolt) / (1.0 - otherwise)))


def _place_offers(
    pasts: Sequence[Past], offers: Series, today: int, rates: Floats, into: tuple[Floats, Floats]
) -> None:
    """Writes the newest offers of each current cycle into the rows of days ago and of log odds."""
    who = np.arange(len(pasts))
    since = [past.molts[-1] + 1 if past.molts else past.first for past in pasts]
    low, high = offers.at(who, np.array(since, dtype=np.int64)), offers.at(who + 1, np.zeros_like(who))
    found = _Offered.between(offers, low, high)
    column = found.place - np.maximum(low, high - _OFFERS_LOOKED_AT)[found.stretch]
    newest = column >= 0
    at = found.stretch[newest], column[newest]
    into[0][at] = today - offers.day[found.place[newest]]
    into[1][at] = found.log_odds(rates[found.stretch, found.run])[newest]


def _cycles(pasts: Sequence[Past], newest: int | None = None) -> tuple[Ints, Ints, Ints]:
    """Completed cycles, of each animal all or the newest: the animal, and the days of the molts around."""
    found = [
        (who, start, end)
        for who, past in enumerate(pasts)
        for start, end in list(pairwise(past.molts))[-(newest or 0) :]
    ]
    who, start, end = np.array(found, dtype=np.int64).reshape(-1, 3).T
    return who, start, end


def _refusals(pasts: Sequence[Past], offers: Series) -> tuple[Floats, Floats]:
    """Refusals and offers in the first half of completed cycles, by animal and refusals before, (n, 3)."""
    who, start, end = _cycles(pasts)
    low, high = offers.at(who, start + 1), offers.at(who, start + (end - start) // 2)
    found = _Offered.between(offers, low, high)
    cell, shape = who[found.stretch] * len(_OTHERWISE) + found.run, (len(pasts), len(_OTHERWISE))
    refused = np.bincount(cell, weights=found.refused, minlength=shape[0] * shape[1])
    offered = np.bincount(cell, weights=np.ones(len(cell)), minlength=shape[0] * shape[1])
    return np.asarray(refused.reshape(shape)), np.asarray(offered.reshape(shape))


def _rates(refused: Floats, offered: Floats, guesses: Floats) -> Floats:
    """How often offers are refused outside of premolt, a guess counted in."""
    return np.clip((refused + _GUESS_OFFERS * guesses) / (offered + _GUESS_OFFERS), 0.01, 0.85)


# -- seals and signs noted ------------------------------------------------------------------------


def _noted(
    record: OutlookRecord, today: int, placed: Mapping[Sign, tuple[int, int]], part: float
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
    records: Sequence[OutlookRecord], pasts: Sequence[Past], part: float
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


def _premolt_part(pasts: Sequence[Past], offers: Series, rates: Floats) -> float:
    """The mean part of a cycle that premolt takes up: a geometric mean, from completed cycles' offers.

    For each cycle the likelihood of what was taken and refused, were premolt so and so long; averaged
    over how premolt scatters from cycle to cycle; times what is known in general, as good as
    ``_GUESS_CYCLES`` cycles.
    """
    logs = np.linspace(log(_SHORTEST_PART), log(_LONGEST_PART), _PARTS)
    scatter = np.exp(-0.5 * ((logs[:, None] - logs[None, :]) / PREMOLT_PART_SD) ** 2)
    scatter /= scatter.sum(axis=1, keepdims=True)
    known = -0.5 * _GUESS_CYCLES * ((logs - log(PREMOLT_PART.value)) / PREMOLT_PART_SD) ** 2
    cycles = _cycle_likelihoods(pasts, offers, rates, np.exp(logs))
    found = known + np.log(np.exp(cycles) @ scatter.T).sum(axis=0)
    weights = np.exp(found - found.max())
    part = np.exp((weights * logs).sum() / weights.sum())
    return float(min(max(part, PREMOLT_PART.low), PREMOLT_PART.high))


def _cycle_likelihoods(pasts: Sequence[Past], offers: Series, rates: Floats, parts: Floats) -> Floats:
    """(cycles, parts): the log likelihood of a cycle's offers, 0 at best; the newest cycles alone."""
    each = min(max(_CYCLES_LOOKED_AT // max(len(pasts), 1), 1), _CYCLES_EACH)
    who, start, end = _cycles(pasts, newest=each)
    found = _Offered.between(offers, offers.at(who, start + 1), offers.at(who, end))
    cycle = found.stretch
    left = (end[cycle] - offers.day[found.place]) / (end - start)[cycle]
    told = np.where(left[:, None] < parts, found.log_odds(rates[found.run])[:, None], 0.0)
    out = np.zeros((len(who), len(parts)))
    np.add.at(out, cycle, told)
    return np.asarray(out - out.max(axis=1, keepdims=True))
