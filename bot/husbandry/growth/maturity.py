"""How long until an animal is grown, as a range: its molts to come, one after another.

Many courses are drawn for each animal: how large it is and grows, how large its kind becomes, how long
each molt takes. The same draws serve every animal, so that its figures hang on its own record alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

import numpy as np

from bot.husbandry.animal import Animal
from bot.husbandry.growth.outlook import MOLT_SD, Growth
from bot.husbandry.growth_rule import log_growth
from bot.husbandry.molts import PROBABILITIES, Outlook
from bot.husbandry.molts.priors import log_interval
from bot.husbandry.normal import Floats
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.species import Pace
from bot.terms import Stage

#: From this part of the adult span of species and sex an animal is taken for grown.
MATURE_PART: Final = Figure(0.88, 0.75, 0.97, COMMON)
#: How much the adult span of an animal differs from the typical one of the species file, in logs.
ADULT_SPAN_SD: Final = 0.09
_MATURE_PART_SD: Final = 0.06
_DRAWS: Final = 400
_MOST_MOLTS: Final = 40
_QUANTILES: Final = (0.05, 0.5, 0.95)


@dataclass(frozen=True, slots=True, kw_only=True)
class Maturity:
    """When an animal is grown, at 5, 50 and 95 %: molts to come and days; ``span_cm`` is about its size then.

    ``grown`` tells that it is so already, by the keeper's word or by its span; the ranges are then ``None``.
    """

    grown: bool
    span_cm: float
    molts: tuple[int, int, int] | None = None
    days: tuple[date, date, date] | None = None


def maturity_of(animal: Animal, growth: Growth, outlook: Outlook, on: date) -> Maturity:
    """When an animal is grown, from its growth and its molt outlook on a day."""
    span = MATURE_PART.value * growth.adult_span_cm
    if animal.stage in {Stage.ADULT, Stage.MATURE_MALE}:
        return Maturity(grown=True, span_cm=span)
    molts, days = _courses(animal.species.pace, growth, outlook)
    if float((molts == 0).mean()) > 0.5:
        return Maturity(grown=True, span_cm=span)
    ahead = np.quantile(days, _QUANTILES)
    low, middle, high = (on + timedelta(days=round(float(n))) for n in ahead)
    few, usual, many = (int(n) for n in np.quantile(molts, _QUANTILES, method="nearest"))
    return Maturity(grown=False, span_cm=span, molts=(few, usual, many), days=(low, middle, high))


def _courses(pace: Pace, growth: Growth, outlook: Outlook) -> tuple[Floats, Floats]:
    """For each draw, how many molts and days until it is grown."""
    z = _draws()
    adults = growth.adult_span_cm * np.exp(ADULT_SPAN_SD * z[0])
    part = MATURE_PART.value * np.exp(_MATURE_PART_SD * z[1])
    target = adults * np.clip(part, MATURE_PART.low, MATURE_PART.high)
    root = np.linalg.cholesky(np.array(growth.cov) + 1e-9 * np.eye(2))
    spans = np.exp(growth.log_span + root[0, 0] * z[2])
    more = growth.more + root[1, 0] * z[2] + root[1, 1] * z[3]
    molts, days = np.zeros(_DRAWS), np.zeros(_DRAWS)
    for number in range(_MOST_MOLTS):
        growing = spans < target
        if not growing.any():
            break
        if number == 0:
            wait = _first_wait(outlook, z[4])
        else:
            usual = log_interval(pace, spans, adults) + outlook.level
            wait = np.exp(usual + outlook.spread * z[5 + 2 * number])
        step = log_growth(spans, adults, more)
        step = np.maximum(step + np.minimum(MOLT_SD, 0.5 * step) * z[6 + 2 * number], 0.0)
        molts, days = molts + growing, days + np.where(growing, wait, 0.0)
        spans = np.where(growing, spans * np.exp(step), spans)
    return molts, days


def _first_wait(outlook: Outlook, z: Floats) -> Floats:
    """Days to the next molt, between its quantiles, which are taken to go on a little beyond the ends."""
    low, high = outlook.days[0], outlook.days[-1]
    parts = np.argsort(np.argsort(z)) / (len(z) - 1.0)
    return np.asarray(np.interp(parts, (0.0, *PROBABILITIES, 1.0), (low * 0.6, *outlook.days, high * 1.3)))


@lru_cache(maxsize=1)
def _draws() -> Floats:
    """Standard normal numbers, the same every time."""
    return np.random.default_rng(20260514).standard_normal((5 + 2 * _MOST_MOLTS + 2, _DRAWS))
