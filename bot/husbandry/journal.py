"""One specimen with its journal: what the computations that look back over years take in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from bot.husbandry.animal import Animal
from bot.husbandry.effects import left_of
from bot.husbandry.state import SAME_MOLT_DAYS, SpecimenState, journal_order, state_of
from bot.terms import Entry, Kind, Specimen

MOLT_KINDS = frozenset({Kind.MOLTED, Kind.MATURED})
_LOSSES = frozenset({Kind.DIED, Kind.LEFT})


@dataclass(frozen=True)
class SpecimenRecord:
    """A specimen, its live entries in journal order, the state they add up to, the one they start from."""

    specimen: Specimen
    entries: Sequence[Entry]
    state: SpecimenState
    start: SpecimenState

    @classmethod
    def of(cls, specimen: Specimen, entries: Iterable[Entry], start: SpecimenState) -> SpecimenRecord:
        """The record of entries given in the order of recording; ``start`` is what was so before."""
        ordered = tuple(sorted(entries, key=journal_order))
        return cls(specimen, ordered, state_of(ordered, start), start)

    def until(self, on: date) -> SpecimenRecord:
        """The record as it stood at the end of a day; itself, where nothing was entered since."""
        if not self.entries or self.entries[-1].day <= on:
            return self
        so_far = (entry for entry in self.entries if entry.day <= on)
        return SpecimenRecord.of(self.specimen, so_far, self.start)

    @cached_property
    def animal(self) -> Animal:
        """The specimen with its state and species."""
        return Animal(self.specimen, self.state)

    def kept_on(self, day: date) -> bool:
        """Whether it was on the shelf on a day: from its first own entry, if any, until it died or left."""
        first = next((entry.day for entry in self.entries if entry.specimens), date.min)
        return first <= day <= (self.state.gone_on or date.max)

    @property
    def came(self) -> int:
        """How many animals it came as: 1, or the size of the lot."""
        return self.start.lot_size

    @property
    def kept_now(self) -> int:
        """How many of them are still kept."""
        return self.state.lot_size

    @cached_property
    def died(self) -> int:
        """How many of them died; the others that are not kept any more have left."""
        died, kept = 0, self.came
        for entry in self.entries:
            if entry.kind in _LOSSES and kept:
                left = left_of(kept, entry)
                died += kept - left if entry.kind is Kind.DIED else 0
                kept = left
        return died

    @cached_property
    def molt_days(self) -> tuple[date, ...]:
        """The days of its molts, the ultimate one too; one written down twice counts once."""
        return distinct_molts(entry.day for entry in self.of_kinds(*MOLT_KINDS))

    def of_kinds(self, *kinds: Kind) -> list[Entry]:
        """Its entries of some kinds, in journal order."""
        places = [place for kind in kinds for place in self._places.get(kind, ())]
        return [self.entries[place] for place in (sorted(places) if len(kinds) > 1 else places)]

    @cached_property
    def _places(self) -> dict[Kind, list[int]]:
        """Where the entries of each kind stand: years of entries are gone through once, not for each kind."""
        places: dict[Kind, list[int]] = defaultdict(list)
        for place, entry in enumerate(self.entries):
            places[entry.kind].append(place)
        return places


def distinct_molts(days: Iterable[date]) -> tuple[date, ...]:
    """Molt days in order, without those that repeat the one before."""
    kept: list[date] = []
    for day in days:
        if not kept or (day - kept[-1]).days >= SAME_MOLT_DAYS:
            kept.append(day)
    return tuple(kept)
