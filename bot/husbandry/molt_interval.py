"""The days from molt to molt that common practice has, by pace and size: the table, and one animal's figure.

Without numpy, for what is worked out at every message; ``molts.priors`` reads the same for whole arrays.
"""

from __future__ import annotations

import csv
from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from math import exp, log, sqrt
from typing import Final

from bot.husbandry.species import Pace

#: The adult row holds for a species of this adult span; dwarfs molt sooner, by the root of their size.
ADULT_ROW_SPAN_CM: Final = 14.0
#: Where the juvenile columns begin to give way to the adult row, as a part of the adult span.
ADULT_FROM, ADULT_AT = 0.7, 1.0


@dataclass(frozen=True, slots=True)
class Row:
    """A pace's intervals: logs of spans in cm and of days there, and the log of an adult's days."""

    log_spans: tuple[float, ...]
    log_days: tuple[float, ...]
    adult: float


@lru_cache(maxsize=1)
def table() -> dict[Pace, Row]:
    """The middle of each range of ``molt_priors.tsv``. Raises ``ValueError`` on a broken file."""
    text = resources.files(__package__).joinpath("molts/molt_priors.tsv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines(), delimiter="\t", strict=True))
    out = {}
    for pace in Pace:
        middle = {
            row["span_cm"]: 0.5 * (log(float(row["low_days"])) + log(float(row["high_days"])))
            for row in rows
            if row["pace"] == pace
        }
        adult = middle.pop("adult")
        out[pace] = Row(tuple(log(float(span)) for span in middle), tuple(middle.values()), adult)
    return out


@lru_cache(maxsize=4096)  # a span stays the same for months, and is asked for every day
def usual_days(pace: Pace, span_cm: float, adult_span_cm: float) -> float:
    """The usual days from a molt at this span to the next one; see ``molts.priors.log_interval``."""
    row, x = table()[pace], log(span_cm)
    at = min(max(bisect_right(row.log_spans, x) - 1, 0), len(row.log_spans) - 2)
    (x0, x1), (y0, y1) = row.log_spans[at : at + 2], row.log_days[at : at + 2]
    young = y0 + (y1 - y0) * (min(x, row.log_spans[-1]) - x0) / (x1 - x0)
    adult = row.adult + log(min(sqrt(adult_span_cm / ADULT_ROW_SPAN_CM), 1.0))
    share = min(max((span_cm / adult_span_cm - ADULT_FROM) / (ADULT_AT - ADULT_FROM), 0.0), 1.0)
    return exp((1.0 - share) * min(young, adult) + share * adult)
