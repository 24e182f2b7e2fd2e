"""What a whole shelf's journals note on days, as arrays: the offers and the warmth of all animals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

import numpy as np

from bot.husbandry.normal import Floats, Ints
from bot.husbandry.outlook_record import OutlookRecord

#: More than any ordinal of a day, so that an animal's number and a day make one number in order.
_APART: Final = 10_000_000


@dataclass(frozen=True, slots=True)
class Series:
    """Values noted on days, animal after animal, each animal's in journal order, (k).

    ``who`` numbers the animals, ``day`` are ordinals of the proleptic Gregorian calendar.
    """

    who: Ints
    day: Ints
    value: Floats

    def at(self, who: Ints, day: Ints) -> Ints:
        """Where an animal's first from a day on stands, or would stand."""
        return np.searchsorted(self.who * _APART + self.day, who * _APART + day)

    def sums(self) -> Floats:
        """The sum of all values before each place, and of all, (k + 1)."""
        return np.concatenate([[0.0], np.cumsum(self.value)])


def offers_of(records: Sequence[OutlookRecord]) -> Series:
    """What was offered and taken or refused: 1 where it was refused, else 0."""
    return _series([record.offers for record in records])


def warmth_of(records: Sequence[OutlookRecord]) -> Series:
    """Readings in °C."""
    return _series([record.warmth for record in records])


def _series(each: Sequence[Sequence[tuple[date, float | Decimal]]]) -> Series:
    """What was noted of each animal, one after another."""
    who = np.repeat(np.arange(len(each)), [len(noted) for noted in each])
    days = [day.toordinal() for noted in each for day, _ in noted]
    values = [float(value) for noted in each for _, value in noted]
    return Series(who, np.array(days, dtype=np.int64), np.array(values, dtype=float))


def ranges(low: Ints, high: Ints) -> tuple[Ints, Ints]:
    """All places of ranges one after another: the number of the range, and the place."""
    counts = np.maximum(high - low, 0)
    which = np.repeat(np.arange(len(low)), counts)
    within = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)
    return which, low[which] + within
