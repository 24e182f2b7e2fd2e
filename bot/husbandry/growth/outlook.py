"""The size of every animal of a shelf, and how much more or less than the rule it grows at a molt.

One pass over each animal's steps, all animals at once: a Kalman filter over four figures in logs, its
span, its own growth, and its own proportions of carapace and weight. Growth scatters about that of its
species on the shelf, which scatters about the rule; an animal with few measures is drawn towards both.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp
from typing import Final

import numpy as np

from bot.husbandry.growth.measures import MEASURE_SD, PROPORTION_SD, Step, Steps, steps_of
from bot.husbandry.growth_rule import ADULT_LOG_GROWTH, LATE, SLING_LOG_GROWTH, growing_part, log_growth
from bot.husbandry.normal import Floats
from bot.husbandry.outlook_record import OutlookRecord

#: Scatter of the log growth of a sling's molt: of a species about the rule, of an animal about its
#: species, of one molt about the animal's usual one. Together ×1.15 to ×1.52 for nine molts of ten, where
#: keepers see ×1.1 to ×1.5: common practice, no source; how it is shared out is a guess.
SPECIES_SD: Final = 0.045
ANIMAL_SD: Final = 0.045
MOLT_SD: Final = 0.055
#: How well the span of an animal is known that nobody measured, and before the first measure.
_UNMEASURED_SD, _AT_FIRST_SD = 0.4, 1.5
_P95: Final = 1.645

_SPAN, _OWN = 0, 1
#: What each kind of measure sees of (span, own growth, carapace, weight).
_SEES: Final = {
    Step.SPAN: np.array([1.0, 0.0, 0.0, 0.0]),
    Step.CARAPACE: np.array([1.0, 0.0, 1.0, 0.0]),
    Step.WEIGHT: np.array([3.0, 0.0, 0.0, 1.0]),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """One animal's size now and its growth. Spans in cm, at 5, 50 and 95 %.

    ``log_span``, ``more`` (its log growth at a sling's molt beyond the rule's) and their ``cov`` are what
    the figures come from. ``measures`` counts what was measured; 0 where the span is only taken from stage
    and species. ``own_share`` tells how much of ``more`` is its own record, from 0 to 1.
    """

    log_span: float
    more: float
    cov: tuple[tuple[float, float], tuple[float, float]]
    adult_span_cm: float
    measures: int
    own_share: float

    @property
    def span_cm(self) -> tuple[float, float, float]:
        """The span now."""
        return _three(self.log_span, self.cov[0][0] ** 0.5)

    @property
    def factor(self) -> float:
        """By how much the span is expected to grow at the next molt: 1.3 is 30 % more."""
        span, adult = np.array([exp(self.log_span)]), np.array([self.adult_span_cm])
        return exp(float(log_growth(span, adult, self.more)[0]))

    def span_after(self, molts: int) -> tuple[float, float, float]:
        """The span after so many molts; a molt never makes an animal smaller."""
        return spans_after([self], molts)[0]


def spans_after(now: Sequence[Growth], molts: int) -> list[tuple[float, float, float]]:
    """The span of each animal after so many molts; a molt never makes an animal smaller."""
    mean, cov = np.zeros((len(now), 4)), np.zeros((len(now), 4, 4))
    mean[:, : _OWN + 1] = [(one.log_span, one.more) for one in now]
    cov[:, : _OWN + 1, : _OWN + 1] = [one.cov for one in now]
    adults = np.array([one.adult_span_cm for one in now])
    for _ in range(molts):
        mean, cov = _at_molt(mean, cov, adults)
    later = zip(mean[:, _SPAN].tolist(), np.sqrt(cov[:, _SPAN, _SPAN]).tolist(), strict=True)
    spans = [_three(log_span, sd) for log_span, sd in later]
    if not molts:
        return spans
    least = [exp(one.log_span) for one in now]
    return [(max(low, now), middle, high) for now, (low, middle, high) in zip(least, spans, strict=True)]


def growths(records: Sequence[OutlookRecord]) -> list[Growth]:
    """The growth of every record. Give the whole shelf: each animal learns from others of its kind."""
    if not records:
        return []
    steps = steps_of(records)
    adults = np.array([record.animal.adult_span_cm for record in records])
    guesses = np.log([record.animal.span_cm for record in records])
    mean, cov = _filtered(steps, guesses, adults)
    kinds: dict[str, list[int]] = {}
    for number, record in enumerate(records):
        kinds.setdefault(record.specimen.species, []).append(number)
    before = cov[:, _OWN, _OWN].copy()
    mean, cov = _with_kin(mean, cov, list(kinds.values()))
    own = 1.0 - before / (SPECIES_SD**2 + ANIMAL_SD**2)
    return [
        Growth(
            log_span=float(mean[n, _SPAN]),
            more=float(mean[n, _OWN]),
            cov=(
                (float(cov[n, 0, 0]), float(cov[n, 0, 1])),
                (float(cov[n, 1, 0]), float(cov[n, 1, 1])),
            ),
            adult_span_cm=float(adults[n]),
            measures=int(steps.measured[n]),
            own_share=float(np.clip(own[n], 0.0, 1.0)),
        )
        for n in range(len(records))
    ]


# -- the filter -----------------------------------------------------------------------------------


def _filtered(steps: Steps, guesses: Floats, adults: Floats) -> tuple[Floats, Floats]:
    """Means (n, 4) and covariances (n, 4, 4) after all steps, every animal taken by itself."""
    animals = len(guesses)
    mean = np.zeros((animals, 4))
    mean[:, _SPAN] = guesses
    cov = np.zeros((animals, 4, 4))
    cov[:, 0, 0] = np.where(steps.measured > 0, _AT_FIRST_SD**2, _UNMEASURED_SD**2)
    cov[:, 1, 1] = SPECIES_SD**2 + ANIMAL_SD**2
    cov[:, 2, 2] = PROPORTION_SD["carapace"] ** 2
    cov[:, 3, 3] = PROPORTION_SD["weight"] ** 2
    for codes, values in zip(steps.codes.T, steps.values.T, strict=True):
        molting = np.flatnonzero(codes == Step.MOLT)
        if molting.size:
            mean[molting], cov[molting] = _at_molt(mean[molting], cov[molting], adults[molting])
        for step, sees in _SEES.items():
            seen = np.flatnonzero(codes == step)
            if seen.size:
                variance = MEASURE_SD[step] ** 2
                mean[seen], cov[seen] = _measured(mean[seen], cov[seen], values[seen], sees, variance)
    return mean, cov


def _at_molt(mean: Floats, cov: Floats, adults: Floats) -> tuple[Floats, Floats]:
    """The span after a molt; what is not known of it grows by how molts scatter."""
    span = np.exp(mean[:, _SPAN])
    growth = log_growth(span, adults, mean[:, _OWN])
    growing = growing_part(span, adults)
    slope = np.eye(4)[None].repeat(len(mean), axis=0)
    most = np.maximum(SLING_LOG_GROWTH.value + mean[:, _OWN] - ADULT_LOG_GROWTH.value, 0.0)
    slope[:, _SPAN, _SPAN] += np.where(growing > 0, -LATE * (1.0 - growing) * most, 0.0)
    slope[:, _SPAN, _OWN] = np.where(most > 0, growing, 0.0)
    after = mean.copy()
    after[:, _SPAN] += growth
    spread = slope @ cov @ slope.transpose(0, 2, 1)
    spread[:, _SPAN, _SPAN] += _molt_variance(growth)
    return after, spread


def _molt_variance(growth: Floats) -> Floats:
    """One molt's scatter; where little is grown, little can differ."""
    return np.square(np.minimum(MOLT_SD, 0.5 * growth + 0.005))


def _measured(
    mean: Floats, cov: Floats, value: Floats, sees: Floats, variance: float
) -> tuple[Floats, Floats]:
    gain = cov @ sees
    total = gain @ sees + variance
    weight = gain / total[:, None]
    off = value - mean @ sees
    return mean + weight * off[:, None], cov - weight[:, :, None] * gain[:, None, :]


# -- kin ------------------------------------------------------------------------------------------


def _with_kin(mean: Floats, cov: Floats, kinds: Sequence[Sequence[int]]) -> tuple[Floats, Floats]:
    """The same with what the others of its species say of each animal's growth weighed in."""
    mean, cov = mean.copy(), cov.copy()
    guess = 1.0 / (SPECIES_SD**2 + ANIMAL_SD**2)
    for kind in kinds:
        own = 1.0 / cov[kind, _OWN, _OWN]
        precision = np.maximum(own - guess, 0.0)
        weighted = mean[kind, _OWN] * own
        # what each says of its species, from which it differs by ANIMAL_SD
        says = precision / (1.0 + precision * ANIMAL_SD**2)
        said = np.where(precision > 0, weighted / (1.0 + precision * ANIMAL_SD**2), 0.0)
        others = 1.0 / SPECIES_SD**2 + says.sum() - says
        expected = (said.sum() - said) / others
        prior = 1.0 / (1.0 / others + ANIMAL_SD**2)
        mean[kind], cov[kind] = _told(mean[kind], cov[kind], prior - guess, prior * expected)
    return mean, cov


def _told(mean: Floats, cov: Floats, precision: Floats, weighted: Floats) -> tuple[Floats, Floats]:
    """After further evidence on the own growth: its precision, and its mean times that."""
    gain = cov[:, :, _OWN]
    part = 1.0 / (1.0 + precision * cov[:, _OWN, _OWN])
    off = (weighted - precision * mean[:, _OWN]) * part
    return (
        mean + gain * off[:, None],
        cov - (precision * part)[:, None, None] * gain[:, :, None] * gain[:, None, :],
    )


def _three(log_span: float, sd: float) -> tuple[float, float, float]:
    return exp(log_span - _P95 * sd), exp(log_span), exp(log_span + _P95 * sd)
