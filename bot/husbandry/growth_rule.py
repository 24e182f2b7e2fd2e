"""How much a tarantula grows at a molt, before its own record is known.

Linear sizes of hard parts grow by a near-constant factor from molt to molt (Dyar 1890); Grammostola
vachoni +38 % a molt (Zool. Anz. 293:37-45, 2021, abstract). Keepers see about ×1.3 in slings (1.1 to
1.5) and ×1.0 to ×1.1 in adult females: common practice, no source. The rule joins the two: growth stays
what it was through most of development, as in G. vachoni, and falls off over the last molts.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from bot.husbandry.practice import COMMON, Figure

Floats = NDArray[np.float64]

#: Log growth of the span at a molt: of a sling, and of an adult.
SLING_LOG_GROWTH: Final = Figure(0.28, 0.10, 0.41, f"×1.32 a molt, ×1.1 to ×1.5: {COMMON}")
ADULT_LOG_GROWTH: Final = Figure(0.02, 0.0, 0.10, f"×1.02 a molt, ×1.0 to ×1.1: {COMMON}")
#: How late growth falls off: the power of the part of the adult span that is taken from 1. A guess that
#: brings the published number of molts (8 to 11 in G. vachoni) into the range.
LATE: Final = 3


def growing_part(span_cm: Floats, adult_span_cm: Floats) -> Floats:
    """How far a sling's growth still holds at a span: from 1 down to 0 at the adult span."""
    return np.asarray(1.0 - np.clip(span_cm / adult_span_cm, 0.0, 1.0) ** LATE)


def log_growth(span_cm: Floats, adult_span_cm: Floats, more: Floats | float = 0.0) -> Floats:
    """The expected log growth of the span at the next molt, for spans in cm.

    ``more`` is how much more than the rule's an animal's log growth is as a sling.
    """
    adult, sling = ADULT_LOG_GROWTH.value, SLING_LOG_GROWTH.value + more
    return np.asarray(adult + np.maximum(sling - adult, 0.0) * growing_part(span_cm, adult_span_cm))


def span_before(span_cm: Floats, adult_span_cm: Floats, molts: int) -> Floats:
    """The expected span that many molts ago: the one from which :func:`span_after` leads to this."""
    for _ in range(molts):
        before = span_cm / np.exp(log_growth(span_cm / 1.1, adult_span_cm))
        for _ in range(_NEWTON_STEPS):
            off = np.log(before / span_cm) + log_growth(before, adult_span_cm)
            before = before * np.exp(-off / _log_slope(before, adult_span_cm))
        span_cm = before
    return span_cm


def _log_slope(span_cm: Floats, adult_span_cm: Floats) -> Floats:
    """How fast the log of the next span grows with the log of this one."""
    falls_off = LATE * (SLING_LOG_GROWTH.value - ADULT_LOG_GROWTH.value)
    grown = 1.0 - growing_part(span_cm, adult_span_cm)
    return np.asarray(1.0 - falls_off * np.where(span_cm < adult_span_cm, grown, 0.0))


#: Enough to find a span to within a ten-thousandth of itself.
_NEWTON_STEPS: Final = 3


def span_after(span_cm: Floats, adult_span_cm: Floats, molts: int) -> Floats:
    """The expected span that many molts from now."""
    for _ in range(molts):
        span_cm = span_cm * np.exp(log_growth(span_cm, adult_span_cm))
    return span_cm
