"""Estimates with their intervals, from few observations. All intervals are 95 % ones unless said otherwise.

- A share: Wilson's score interval (Wilson 1927; NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1).
- The median of times of which some are still running: Kaplan and Meier's estimate (1958), its interval by
  Greenwood's variance on the log(-log) scale (Kalbfleisch and Prentice 1980).
- A mean over animals: Student's t, with the table of NIST/SEMATECH e-Handbook 1.3.6.7.2.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt
from statistics import fmean, median, quantiles, stdev
from typing import Final

#: The normal distribution's 97.5 % point.
_Z: Final = 1.959964
#: Student's t, 97.5 % points for 1, 2, 3 … degrees of freedom; beyond the table the normal's is near enough.
_T: Final = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
    2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
    2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042,
)  # fmt: skip
_TWENTIETHS: Final = 20
#: A product of fractions that is one half may come out a little above it.
_MEDIAN: Final = 0.5 + 1e-12
_PAIR: Final = 2


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with the ends of its interval; an end is ``None`` where the records do not bound it."""

    value: float | None
    low: float | None
    high: float | None


def share(hits: int, of: int) -> Estimate:
    """The share of hits among ``of`` trials, at least one."""
    part, z2 = hits / of, _Z**2 / of
    middle = (part + z2 / 2) / (1 + z2)
    reach = _Z / (1 + z2) * sqrt(part * (1 - part) / of + z2 / (4 * of))
    return Estimate(part, max(0.0, middle - reach), min(1.0, middle + reach))


def mean_over(values: Sequence[float]) -> Estimate:
    """The mean of one value for each animal; without an interval for a single animal."""
    middle = fmean(values)
    if len(values) < _PAIR:
        return Estimate(middle, None, None)
    freedom = len(values) - 1
    t = _T[freedom - 1] if freedom <= len(_T) else _Z
    reach = t * stdev(values) / sqrt(len(values))
    return Estimate(middle, middle - reach, middle + reach)


def geometric_mean_over(factors: Sequence[float]) -> Estimate:
    """The same for factors, which multiply."""
    found = mean_over([log(factor) for factor in factors])
    return Estimate(*(None if end is None else exp(end) for end in (found.value, found.low, found.high)))


def seen(values: Sequence[float]) -> Estimate:
    """The median with the 5 and 95 % points of what was seen: no statement about what was not."""
    if len(values) < _PAIR:
        return Estimate(values[0], values[0], values[0])
    cuts = quantiles(values, n=_TWENTIETHS, method="inclusive")  # whose rounding may leave the values' range
    return Estimate(median(values), max(cuts[0], min(values)), min(cuts[-1], max(values)))


@dataclass(frozen=True, slots=True)
class Waited:
    """A time in days; ``ended`` is false where it was still running when last looked at."""

    days: float
    ended: bool


def median_time(times: Sequence[Waited]) -> Estimate:
    """The median time by Kaplan and Meier; those still running count for as long as they were seen to run.

    Value or end are ``None`` where too many were still running for the records to say.
    """
    alive, variance, survival = len(times), 0.0, 1.0
    value = low = high = None
    for days in sorted({time.days for time in times}):
        ended = sum(time.ended and time.days == days for time in times)
        if ended:
            survival *= 1 - ended / alive
            variance += ended / (alive * (alive - ended)) if alive > ended else inf
            below, above = _around(survival, variance)
            value = days if value is None and survival <= _MEDIAN else value
            low = days if low is None and below <= _MEDIAN else low
            high = days if high is None and above <= _MEDIAN else high
        alive -= sum(time.days == days for time in times)
    return Estimate(value, low, high)


def _around(survival: float, variance: float) -> tuple[float, float]:
    """The interval of a survival probability, on the log(-log) scale."""
    if survival <= 0.0:
        return 0.0, 0.0
    if survival >= 1.0:
        return 1.0, 1.0
    reach = _Z * sqrt(variance) / -log(survival)
    return survival ** exp(reach), survival ** exp(-reach)
