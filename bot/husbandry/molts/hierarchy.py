"""What a shelf's intervals say of each animal: own record, species and general prior weighed together.

The log of an interval is the prior's expectation plus three traits of the animal: its level, how much
faster or slower than expected its intervals lengthen as it grows, and how its adult intervals differ.
They scatter about those of its species, which scatter about the shelf's, plus noise. Everything is
normal, so the weighing is exact: one pass up the tree and one down, a small matrix for each node. How
much each level scatters is learned from the shelf, from prior guesses that count as some animals' worth
of evidence.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import log
from typing import Final

import numpy as np

from bot.husbandry.molts.history import MoltHistory
from bot.husbandry.normal import Floats, Ints, truncated_moments

#: Guesses of the scatter, in logs: (level, growth, adult). Common practice has the ranges of an
#: interval span a factor of 2 (sd about 0.2 to 0.35); the rest are guesses that data move.
_SHELF_SD: Final = (0.35, 0.25, 0.3)
_SPECIES_SD: Final = (0.22, 0.18, 0.15)
_ANIMAL_SD: Final = (0.16, 0.12, 0.12)
_TRAITS: Final = len(_SHELF_SD)
_NOISE_SD: Final = 0.20
#: Older intervals say less of today's: added variance for each molt ago.
_DRIFT: Final = 0.004
#: How many animals' and intervals' worth the guesses count.
_GUESS_ANIMALS, _GUESS_INTERVALS = 12.0, 30.0
#: A molt that was never written down: how often, and the log length of two intervals as one.
MISSED: Final = 0.04
DOUBLE: Final = log(2.0)

#: No shelf keeps quite to the law assumed here, so predictions are spread wider by this factor of the
#: variance; chosen so that the back-test's 90 % ranges hold what they promise.
_LAW_DOUBT: Final = 1.3

_ROUNDS: Final = 5


@dataclass(frozen=True, slots=True)
class Scatter:
    """Covariances of the traits for shelf, species and animal, and the noise variance."""

    shelf: Floats
    species: Floats
    animal: Floats
    noise: float


@dataclass(frozen=True, slots=True)
class Belief:
    """Means (n, 3) and covariances (n, 3, 3) of the traits."""

    mean: Floats
    cov: Floats


@dataclass(frozen=True, slots=True)
class MoltModel:
    """The expected log of each animal's current interval: mean, variance of the mean, and the noise.

    ``mean`` and ``spread`` (a standard deviation) are predictive: noise is in them. ``own`` is the share
    of the animal's own record in the estimate, from 0 to 1.
    """

    mean: Floats
    spread: Floats
    noise: float
    own: Floats


@dataclass(frozen=True, slots=True)
class _Evidence:
    """Sums of an animal's observations in information form: precision (n, 3, 3) and its mean (n, 3)."""

    precision: Floats
    weighted: Floats


@dataclass(frozen=True, slots=True)
class _Weighed:
    """A round's beliefs: the evidence they rest on, species, animals, and which intervals hide a molt."""

    evidence: _Evidence
    species: Belief
    animals: Belief
    missed: Floats


def fit(history: MoltHistory) -> MoltModel:
    """Weigh the shelf's history. Works for any shelf, also one without a single molt."""
    scatter = Scatter(_diag(_SHELF_SD), _diag(_SPECIES_SD), _diag(_ANIMAL_SD), _NOISE_SD**2)
    residual = history.log_days - history.expected
    missed = np.zeros_like(residual)
    sites = _no_sites(len(history.species))
    for _ in range(_ROUNDS):
        own = _evidence(history, residual, missed, scatter.noise)
        everything = _Evidence(own.precision + sites.precision, own.weighted + sites.weighted)
        species, animals = _weigh(everything, history.species, scatter)
        missed = _missed(history, residual, animals, scatter.noise)
        scatter = _learn(history, residual, _Weighed(everything, species, animals, missed), scatter)
        sites = _waiting_sites(history, own, sites, scatter)
    own = _evidence(history, residual, missed, scatter.noise)
    prior = _from_others(own, sites, history.species, scatter)
    posterior = _with_own(prior, own)
    mean = history.expects + posterior.mean[:, 0]
    variance = posterior.cov[:, 0, 0] + scatter.noise
    unmeasured = np.where(history.measured | (own.precision[:, 0, 0] > 0), 0.0, 0.15)
    return MoltModel(
        mean,
        np.sqrt(variance * _LAW_DOUBT + unmeasured),
        float(np.sqrt(scatter.noise)),
        1.0 - posterior.cov[:, 0, 0] / prior.cov[:, 0, 0],
    )


def _diag(sd: tuple[float, ...]) -> Floats:
    return np.diag(np.square(np.array(sd, dtype=float)))


def _no_sites(animals: int) -> _Evidence:
    return _Evidence(np.zeros((animals, _TRAITS, _TRAITS)), np.zeros((animals, _TRAITS)))


def _sum_by(groups: Ints, values: Floats, count: int) -> Floats:
    out = np.zeros((count, *values.shape[1:]))
    np.add.at(out, groups, values)
    return out


def _variance(history: MoltHistory, missed: Floats, noise: float) -> Floats:
    return noise + _DRIFT * history.ago + missed * (1.0 - missed) * DOUBLE**2


def _evidence(history: MoltHistory, residual: Floats, missed: Floats, noise: float) -> _Evidence:
    animals = len(history.species)
    if not residual.size:
        return _no_sites(animals)
    weight = 1.0 / _variance(history, missed, noise)
    value = residual - missed * DOUBLE
    design = history.design
    precision = _sum_by(history.who, weight[:, None, None] * design[:, :, None] * design[:, None, :], animals)
    return _Evidence(precision, _sum_by(history.who, (weight * value)[:, None] * design, animals))


def _message(evidence: _Evidence, spread: Floats) -> _Evidence:
    """What evidence on a node says of its parent, from which it differs by ``spread``."""
    mix = np.eye(_TRAITS) + evidence.precision @ spread
    return _Evidence(
        np.asarray(np.linalg.solve(mix, evidence.precision), dtype=float),
        np.asarray(np.linalg.solve(mix, evidence.weighted[..., None])[..., 0], dtype=float),
    )


def _belief(precision: Floats, weighted: Floats) -> Belief:
    cov = np.asarray(np.linalg.inv(precision), dtype=float)
    return Belief((cov @ weighted[..., None])[..., 0], cov)


def _weigh(evidence: _Evidence, species: Ints, scatter: Scatter) -> tuple[Belief, Belief]:
    """Beliefs on every species and every animal, all evidence weighed in."""
    up = _message(evidence, scatter.animal)
    kinds = _kinds(species)
    at_species = _Evidence(_sum_by(species, up.precision, kinds), _sum_by(species, up.weighted, kinds))
    root = _message(at_species, scatter.species)
    above_precision = np.linalg.inv(scatter.shelf) + root.precision.sum(axis=0) - root.precision
    above = _belief(above_precision, root.weighted.sum(axis=0) - root.weighted)
    species_prior = Belief(above.mean, above.cov + scatter.species)
    belief = _with_own(species_prior, at_species)
    animal_prior = _without(belief, up, species, scatter)
    return belief, _with_own(animal_prior, evidence)


def _without(belief: Belief, up: _Evidence, species: Ints, scatter: Scatter) -> Belief:
    """The prior of each animal from its species, its own message taken out again."""
    precision = np.linalg.inv(belief.cov)
    weighted = (precision @ belief.mean[..., None])[..., 0]
    rest = _belief(precision[species] - up.precision, weighted[species] - up.weighted)
    return Belief(rest.mean, rest.cov + scatter.animal)


def _with_own(prior: Belief, evidence: _Evidence) -> Belief:
    precision = np.linalg.inv(prior.cov)
    return _belief(
        precision + evidence.precision, (precision @ prior.mean[..., None])[..., 0] + evidence.weighted
    )


def _from_others(own: _Evidence, sites: _Evidence, species: Ints, scatter: Scatter) -> Belief:
    """What all the others say of each animal."""
    everything = _Evidence(own.precision + sites.precision, own.weighted + sites.weighted)
    beliefs, _ = _weigh(everything, species, scatter)
    return _without(beliefs, _message(everything, scatter.animal), species, scatter)


def _kinds(species: Ints) -> int:
    return int(species.max()) + 1 if species.size else 0


def _waiting_sites(history: MoltHistory, own: _Evidence, sites: _Evidence, scatter: Scatter) -> _Evidence:
    """The current interval, of which only a lower bound is known, as an observation of like effect.

    The truncated normal is matched in mean and variance (one step of expectation propagation).
    """
    cavity = _with_own(_from_others(own, sites, history.species, scatter), own)
    mean, variance = cavity.mean[:, 0], cavity.cov[:, 0, 0]
    total = variance + scatter.noise
    lower = np.log(np.maximum(history.waited, 1.0)) - history.expects
    at, spread = truncated_moments(mean, np.sqrt(total), lower)
    gain = variance / total
    new_mean = mean + gain * (at - mean)
    new_variance = variance - gain**2 * (total - spread)
    precision = np.maximum(1.0 / new_variance - 1.0 / variance, 0.0)
    precision = np.where(history.has_molt & (lower < mean + 3.0 * np.sqrt(total)), precision, 0.0)
    weighted = np.where(precision > 0, new_mean / new_variance - mean / variance, 0.0)
    out = _no_sites(len(history.species))
    out.precision[:, 0, 0] = precision
    out.weighted[:, 0] = weighted
    return out


def _missed(history: MoltHistory, residual: Floats, animals: Belief, noise: float) -> Floats:
    """The probability that an interval holds a molt that was never written down."""
    if not residual.size:
        return residual
    centre = (animals.mean[history.who] * history.design).sum(axis=1)
    variance = noise * 1.3 + _DRIFT * history.ago
    odds = log(MISSED / (1.0 - MISSED)) + ((residual - centre) ** 2 - (residual - centre - DOUBLE) ** 2) / (
        2.0 * variance
    )
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(odds, -30.0, 30.0))))


def _learn(history: MoltHistory, residual: Floats, weighed: _Weighed, scatter: Scatter) -> Scatter:
    """One step of expectation maximisation for the scatter, the guesses counting as evidence."""
    noise = scatter.noise
    animals, evidence = weighed.animals, weighed.evidence
    if residual.size:
        off = residual - weighed.missed * DOUBLE - (animals.mean[history.who] * history.design).sum(axis=1)
        doubt = np.einsum("ki,kij,kj->k", history.design, animals.cov[history.who], history.design)
        squares = np.maximum(off**2 + doubt - _DRIFT * history.ago, 0.0)
        noise = (float(squares.sum()) + _GUESS_INTERVALS * _NOISE_SD**2) / (residual.size + _GUESS_INTERVALS)
    known = evidence.precision[:, 0, 0] > 0
    away = _away_from_parent(evidence, weighed.species, history.species, scatter.animal)
    return replace(scatter, noise=noise, animal=_pooled(away[known], _ANIMAL_SD, _GUESS_ANIMALS))


def _away_from_parent(evidence: _Evidence, parents: Belief, groups: Ints, spread: Floats) -> Floats:
    """The expected squares of each node's difference from its parent."""
    cov = np.linalg.inv(np.linalg.inv(spread) + evidence.precision)
    mean, parent_cov = parents.mean[groups], parents.cov[groups]
    off = (cov @ (evidence.weighted - (evidence.precision @ mean[..., None])[..., 0])[..., None])[..., 0]
    slope = cov @ evidence.precision
    return np.asarray(cov + off[:, :, None] * off[:, None, :] + slope @ parent_cov @ slope.transpose(0, 2, 1))


def _pooled(squares: Floats, guess: tuple[float, ...], worth: float) -> Floats:
    """The mean square with the guess counted in; off-diagonals are left out."""
    total = squares.sum(axis=0) if squares.size else np.zeros((_TRAITS, _TRAITS))
    pooled = (total + worth * _diag(guess)) / (len(squares) + worth)
    return np.diag(np.diag(pooled))
