"""The standard normal distribution for whole arrays, from a table made once.

Linear interpolation over steps of 1/200 in the logarithm of the upper tail: relative error of a
tail probability below 2e-5 from -8 to 30 standard deviations, which is far finer than any forecast.
"""

from __future__ import annotations

from math import erfc, log, sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_Z: Final = np.linspace(-8.0, 30.0, 7601)
_LOG_TAIL: Final = np.array([log(0.5 * erfc(z / sqrt(2.0))) for z in _Z])


def log_tail(z: Floats) -> Floats:
    """Log of the probability of more than ``z``."""
    return np.asarray(np.interp(z, _Z, _LOG_TAIL))


def tail(z: Floats) -> Floats:
    """The probability of more than ``z``."""
    return np.asarray(np.exp(log_tail(z)))


def above(log_probability: Floats) -> Floats:
    """The ``z`` that is exceeded with a probability given by its log: the inverse of :func:`log_tail`."""
    return np.asarray(np.interp(-log_probability, -_LOG_TAIL, _Z))


def density(z: Floats) -> Floats:
    """The density at ``z``."""
    return np.asarray(np.exp(-0.5 * np.square(z)) / sqrt(2.0 * np.pi))


def truncated_moments(mean: Floats, sd: Floats, lower: Floats) -> tuple[Floats, Floats]:
    """Mean and variance of a normal variable that is known to lie above ``lower``."""
    z = (lower - mean) / sd
    mills = np.where(z > -8.0, density(np.maximum(z, -8.0)) / tail(z), 0.0)
    shrink = np.clip(1.0 + z * mills - mills**2, 1e-6, 1.0)
    return mean + sd * mills, sd**2 * np.where(z > -8.0, shrink, 1.0)
