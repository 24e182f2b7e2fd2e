"""The distribution of each animal's next molt, and the probability that it is in premolt now.

The distribution is a set of weighted points, days from today: equal parts of the interval's
distribution beyond the days already waited, of which what was seen since makes some likelier.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bot.husbandry.molts.hierarchy import DOUBLE, MISSED, MoltModel, fit
from bot.husbandry.molts.history import MoltHistory, Noted, Past, history_of, past_of
from bot.husbandry.molts.series import offers_of, warmth_of
from bot.husbandry.molts.signs import PREMOLT_PART_SD, Signs, signs_of
from bot.husbandry.normal import Floats, above, log_tail
from bot.husbandry.outlook_record import OutlookRecord

PROBABILITIES: Final = (0.05, 0.25, 0.5, 0.75, 0.95)
_POINTS: Final = 120
#: Lengths of premolt that are averaged over, as standard normal quantiles of equal weight.
_LENGTHS: Final = np.array([-1.2816, -0.5244, 0.0, 0.5244, 1.2816])


@dataclass(frozen=True, slots=True)
class Outlook:
    """One animal's next molt: days from today at :data:`PROBABILITIES`, and premolt now.

    ``level`` is how much longer than the priors' its intervals are, in logs, and ``spread`` how much one
    interval scatters: what later intervals are reckoned from.
    """

    days: tuple[float, ...]
    premolt: float
    molts: int
    shortest: int | None
    longest: int | None
    waited: int
    own_share: float
    level: float
    spread: float


def outlooks(records: Sequence[OutlookRecord], on: date) -> list[Outlook]:
    """The outlook of every record on a day; their journals must not reach beyond it.

    Give the whole shelf: each animal's outlook learns from all of them. Mature males are no exception
    here; it is for the caller to leave them out.
    """
    if not records:
        return []
    pasts, noted = [past_of(record) for record in records], Noted(offers_of(records), warmth_of(records))
    history = history_of(records, pasts, noted, on)
    model = fit(history)
    days, weights = _points(history, model)
    signs = signs_of(records, pasts, noted.offers, on.toordinal())
    days, weights, premolt = _seen(days, weights, signs, np.exp(model.mean), history.waited)
    quantiles = _quantiles(days, weights)
    levels = model.mean - history.expects
    return [
        _outlook(past, quantiles[i], premolt[i], history.waited[i], model.own[i], levels[i], model.spread[i])
        for i, past in enumerate(pasts)
    ]


def _outlook(
    past: Past, days: Floats, premolt: float, waited: float, own: float, level: float, spread: float
) -> Outlook:
    apart = [b - a for a, b in pairwise(past.molts)]
    return Outlook(
        days=tuple(float(day) for day in days),
        premolt=float(premolt),
        molts=len(past.molts),
        shortest=min(apart, default=None),
        longest=max(apart, default=None),
        waited=int(waited),
        own_share=float(own),
        level=float(level),
        spread=float(spread),
    )


def _points(history: MoltHistory, model: MoltModel) -> tuple[Floats, Floats]:
    """Days to the next molt and their weights, (n, 2 x points), before anything seen in this cycle."""
    once_days, once = _beyond(history.waited, model.mean, model.spread)
    noise = model.noise**2
    twice_spread = np.sqrt(np.maximum(model.spread**2 - noise / 2.0, 0.01))
    twice_days, twice = _beyond(history.waited, model.mean + DOUBLE, twice_spread)
    top = np.maximum(once + np.log(1.0 - MISSED), twice + np.log(MISSED))
    share = np.exp(once + np.log(1.0 - MISSED) - top), np.exp(twice + np.log(MISSED) - top)
    weights = np.concatenate([np.repeat(one[:, None], _POINTS, axis=1) / _POINTS for one in share], axis=1)
    days = np.concatenate([once_days, twice_days], axis=1)
    unseen = np.flatnonzero(~history.has_molt)
    if unseen.size:
        days[unseen], weights[unseen] = _without_molt(
            history.waited[unseen], model.mean[unseen], model.spread[unseen]
        )
    return days, weights / weights.sum(axis=1, keepdims=True)


def _beyond(waited: Floats, mean: Floats, spread: Floats) -> tuple[Floats, Floats]:
    """Points of equal weight of the days left, given the days waited; and the log of that condition."""
    parts = (np.arange(_POINTS) + 0.5) / _POINTS
    condition = log_tail((np.log(np.maximum(waited, 0.5)) - mean) / spread)
    z = above(np.log(1.0 - parts)[None, :] + condition[:, None])
    whole = np.exp(mean[:, None] + spread[:, None] * z)
    return np.maximum(whole - waited[:, None], 0.5), condition


def _without_molt(waited: Floats, mean: Floats, spread: Floats) -> tuple[Floats, Floats]:
    """No molt on record: the journal began at an unknown point of an interval, long ones likelier.

    An interval is met in proportion to its length, at any point of it with equal chance.
    """
    lengths, points = 12, 2 * _POINTS // 12
    z = above(np.log(1.0 - (np.arange(lengths) + 0.5) / lengths))
    whole = np.exp(mean[:, None] + spread[:, None] ** 2 + spread[:, None] * z[None, :])
    part = (np.arange(points) + 0.5) / points
    left = (whole[:, :, None] * part[None, None, :]).reshape(len(mean), -1)
    fits: NDArray[np.bool_] = np.asarray(left > waited[:, None])
    longer: NDArray[np.bool_] = np.logical_not(np.asarray(fits.any(axis=1)))
    days = np.where(longer[:, None], left, left - waited[:, None])
    weights = np.where(longer[:, None], 1.0, fits.astype(float))
    return np.maximum(days, 0.5), weights


def _seen(
    days: Floats, weights: Floats, signs: Signs, interval: Floats, waited: Floats
) -> tuple[Floats, Floats, Floats]:
    """Weights after what was seen in this cycle, in order of days, and the probability of premolt."""
    order = np.argsort(days, axis=1)
    days = np.take_along_axis(days, order, axis=1)
    weights = np.take_along_axis(weights, order, axis=1)
    joint = np.zeros((len(_LENGTHS), *days.shape))
    premolt = np.zeros((len(_LENGTHS), len(days)))
    log_likelihood = np.zeros_like(joint)
    begun = []
    whole = np.maximum(waited[:, None] + days, interval[:, None])
    for number, z in enumerate(_LENGTHS):
        length = whole * signs.part * np.exp(PREMOLT_PART_SD * z)
        begun.append(days < length)
        for column in range(signs.ago.shape[1]):
            odds = signs.log_odds[:, column]
            if odds.any():
                in_it = days + signs.ago[:, column, None] < length
                log_likelihood[number] += np.where(in_it, odds[:, None], 0.0)
    log_likelihood -= log_likelihood.max(axis=(0, 2), keepdims=True)
    joint = np.exp(log_likelihood) * weights
    total = joint.sum(axis=(0, 2))
    premolt = sum((joint[number] * in_it).sum(axis=1) for number, in_it in enumerate(begun)) / total
    return days, joint.sum(axis=0) / total[:, None], np.asarray(premolt)


def _quantiles(days: Floats, weights: Floats) -> Floats:
    """Days at :data:`PROBABILITIES` for each animal, between the midpoints of the weights."""
    middle = np.cumsum(weights, axis=1) - weights / 2.0
    return np.stack([np.interp(PROBABILITIES, row, own) for row, own in zip(middle, days, strict=True)])
