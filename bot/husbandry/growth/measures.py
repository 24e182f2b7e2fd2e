"""Span, carapace and weight as measures of one size, and an animal's molts and measures as steps.

A carapace is hard and measured well, a span of a live spider roughly, and a weight changes with every
meal; what one is to another differs from kind to kind. So each has its own scatter, and each animal its
own proportions, about the general ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import IntEnum
from math import log
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bot.husbandry.normal import Floats
from bot.husbandry.outlook_record import Measure, OutlookRecord
from bot.husbandry.proportions import CARAPACE_PART, WEIGHT_PER_CM3

#: How much one animal's proportions differ from those, in logs.
PROPORTION_SD: Final = {"carapace": 0.14, "weight": 0.35}


class Step(IntEnum):
    """What happened to a size: it grew, or it was measured in one way or another."""

    NOTHING = 0
    MOLT = 1
    SPAN = 2
    CARAPACE = 3
    WEIGHT = 4


#: Scatter of one measure about the animal's size, in logs. Spans of live animals are noisy, shed skins
#: are better (poramorart.ca; common practice); a weight goes up and down with meals and water.
MEASURE_SD: Final = {Step.SPAN: 0.05, Step.CARAPACE: 0.03, Step.WEIGHT: 0.18}
#: Logs of what a measure is expected to be at a span of 1 cm: cm of span, mm of carapace, g.
_AT_ONE_CM: Final = {
    Step.SPAN: 0.0,
    Step.CARAPACE: log(10.0 * CARAPACE_PART.value),
    Step.WEIGHT: log(WEIGHT_PER_CM3.value),
}
#: In the order of a :class:`Measure`.
_MEASURED: Final = (Step.SPAN, Step.CARAPACE, Step.WEIGHT)


@dataclass(frozen=True, slots=True)
class Steps:
    """Molts and measures of a shelf in order: rows are animals, columns steps, (n, m).

    ``values`` are logs of a measure over what is expected of it at a span of 1 cm. ``measured`` tells
    how many measures an animal has; it begins with the first of them.
    """

    codes: NDArray[np.int64]
    values: Floats
    measured: NDArray[np.int64]


def steps_of(records: Sequence[OutlookRecord]) -> Steps:
    """The steps of every record; what the card says counts as measured today where nothing else was."""
    rows = [_row(record) for record in records]
    width = max((len(row) for row in rows), default=0)
    codes = np.zeros((len(rows), width), dtype=np.int64)
    values = np.zeros((len(rows), width))
    for number, row in enumerate(rows):
        for column, (step, value) in enumerate(row):
            codes[number, column], values[number, column] = step, value
    return Steps(codes, values, np.asarray((codes > Step.MOLT).sum(axis=1)))


def _row(record: OutlookRecord) -> list[tuple[Step, float]]:
    measured = [found for measure in record.measures for found in _steps_told(measure)]
    if not measured:
        span = record.animal.measured_span_cm
        return [] if span is None else [(Step.SPAN, log(span))]
    first = measured[0][0]
    # a measure of the day of a molt is one of the new skin; a molt before the first measure tells nothing
    single = record.came == 1  # who of a lot molted is not known
    molts = [(day, 0, Step.MOLT, 0.0) for day in record.molt_days if single and day > first]
    found = sorted([*molts, *((day, 1, step, value) for day, step, value in measured)])
    return [(step, value) for _, _, step, value in found]


def _steps_told(measure: Measure) -> list[tuple[date, Step, float]]:
    return [
        (measure.day, step, log(float(value)) - _AT_ONE_CM[step])
        for step, value in zip(_MEASURED, measure[1:], strict=True)
        if value is not None and value > 0
    ]
