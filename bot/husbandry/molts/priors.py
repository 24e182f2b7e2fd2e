"""What is expected of a molt interval before a journal says anything: by pace and size."""

from __future__ import annotations

from math import log
from typing import Final

import numpy as np

from bot.husbandry.molt_interval import ADULT_AT, ADULT_FROM, ADULT_ROW_SPAN_CM, table
from bot.husbandry.normal import Floats
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.species import Pace

#: Q10 of development: no figure for tarantula molting was found. Erigonidium graminicolum 2.25
#: (from egg to adult, Li, Bull. Ent. Res.); a guess for tarantulas, held between 15 and 32 °C.
Q10: Final = Figure(2.2, 2.0, 2.5, "Erigonidium graminicolum 2.25 (Li, derived); a guess for tarantulas")
TEMPERATURE_RANGE_C: Final = (15.0, 32.0)
#: Change of the log interval with the log of meals a day; Pterinochilus murinus and Phormictopus
#: cancerides grow less on few meals (Reichling & Gutzke 1998; Philip & Shillington 2010); size: a guess.
FEEDING_ELASTICITY: Final = Figure(-0.15, -0.4, 0.0, f"direction from published rearing, size: {COMMON}")


def log_interval(pace: Pace, span_cm: Floats, adult_span_cm: Floats) -> Floats:
    """The expected log of the days from a molt at this span to the next one.

    Straight lines in the logs of span and days, continued beyond the ends, and a blend into the adult
    interval over the last part of growth.
    """
    row = table()[pace]
    spans, days = np.array(row.log_spans), np.array(row.log_days)
    x = np.log(span_cm)
    young = np.interp(x, spans, days)
    first = (days[1] - days[0]) / (spans[1] - spans[0])
    young = young + np.minimum(x - spans[0], 0.0) * first
    adult = row.adult + 0.5 * np.log(np.minimum(adult_span_cm / ADULT_ROW_SPAN_CM, 1.0))
    share = adult_share(span_cm, adult_span_cm)
    return np.asarray((1.0 - share) * np.minimum(young, adult) + share * adult)


def adult_share(span_cm: Floats, adult_span_cm: Floats) -> Floats:
    """How far the adult interval holds at a span: from 0 (growing) to 1 (grown)."""
    return np.asarray(np.clip((span_cm / adult_span_cm - ADULT_FROM) / (ADULT_AT - ADULT_FROM), 0.0, 1.0))


def temperature_shift(temp_c: Floats, usual_c: Floats) -> Floats:
    """How the log interval changes when it is kept at ``temp_c`` in place of its usual warmth."""
    warmer = np.clip(temp_c, *TEMPERATURE_RANGE_C) - np.clip(usual_c, *TEMPERATURE_RANGE_C)
    return np.asarray(-log(Q10.value) / 10.0 * warmer)


def feeding_shift(times_usual: Floats) -> Floats:
    """How the log interval changes with so many times the animal's usual meals a day; 0 times: not known."""
    known = times_usual > 0
    change = FEEDING_ELASTICITY.value * np.log(np.where(known, times_usual, 1.0))
    return np.asarray(np.clip(change, -0.2, 0.2))
