"""What a whole shelf's journals note on days, as arrays: the offers and the warmth of all animals."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.normal import Floats, Ints
from bot.terms import Entry, Kind

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


def offers_of(records: Sequence[SpecimenRecord]) -> Series:
    """What was offered and taken or refused: 1 where it was refused, else 0."""
    each, refused = [record.of_kinds(Kind.FED, Kind.REFUSED) for record in records], Kind.REFUSED
    return _series(each, [entry.kind is refused for entries in each for entry in entries])


def warmth_of(records: Sequence[SpecimenRecord]) -> Series:
    """Readings in °C. Warmth noted for a place or the room must be among each animal's entries."""
    each = [
        [entry for entry in record.of_kinds(Kind.CLIMATE) if entry.temp_c is not None] for record in records
    ]
    return _series(each, [float(entry.temp_c or 0) for entries in each for entry in entries])


def _series(each: Sequence[Sequence[Entry]], values: Sequence[float]) -> Series:
    """What was noted of each animal, and the values of all that, one after another."""
    counts = [len(entries) for entries in each]
    days = [entry.day.toordinal() for entries in each for entry in entries]
    who = np.repeat(np.arange(len(each)), counts)
    return Series(who, np.array(days, dtype=np.int64), np.array(values, dtype=float))


def ranges(low: Ints, high: Ints) -> tuple[Ints, Ints]:
    """All places of ranges one after another: the number of the range, and the place."""
    counts = np.maximum(high - low, 0)
    which = np.repeat(np.arange(len(low)), counts)
    within = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts, counts)
    return which, low[which] + within
