"""Classes of size in which figures are given apart, and the span of an animal on a day gone by."""

from __future__ import annotations

from bisect import bisect_right
from datetime import date
from itertools import pairwise
from typing import Final

import numpy as np

from bot.husbandry.growth_rule import span_after, span_before
from bot.husbandry.journal import SpecimenRecord
from bot.terms import Kind

#: Where one class of size ends and the next begins, in cm of span; and what the classes are called.
BOUNDS: Final = (2.0, 5.0, 10.0)
CLASSES: Final = ("under 2 cm", "2 to 5 cm", "5 to 10 cm", "over 10 cm")


def size_class(span_cm: float) -> str:
    """The class that a span belongs to; a span on a bound belongs to the larger one."""
    return CLASSES[bisect_right(BOUNDS, span_cm)]


def measured_spans(record: SpecimenRecord) -> dict[int, float]:
    """The span in cm after so many molts on record, as last measured between two molts."""
    spans: dict[int, float] = {}
    for entry in record.entries:
        if entry.kind is Kind.MEASURED and entry.span_cm is not None:
            spans[molts_before(record, entry.day)] = float(entry.span_cm)
    return spans


def molts_before(record: SpecimenRecord, day: date) -> int:
    """How many molts are on record up to a day."""
    return bisect_right(record.molt_days, day)


def span_with(record: SpecimenRecord, molts: int) -> float:
    """The span in cm after so many molts on record: measured, else by the growth rule from the nearest.

    What the card says counts as measured today.
    """
    spans = measured_spans(record) or {len(record.molt_days): record.animal.span_cm}
    if molts in spans:
        return spans[molts]
    nearest = min(spans, key=lambda known: abs(known - molts))
    known, adult = np.array([spans[nearest]]), np.array([record.animal.adult_span_cm])
    step = span_after if molts > nearest else span_before
    return float(step(known, adult, abs(molts - nearest))[0])


def growth_factors(record: SpecimenRecord) -> list[float]:
    """The growth of the span at each molt that lies between two measurements, as a factor."""
    factors: list[float] = []
    for (molts, span), (later, larger) in pairwise(sorted(measured_spans(record).items())):
        factors += [(larger / span) ** (1 / (later - molts))] * (later - molts)
    return factors
