"""One specimen with its journal: what the computations that look back over years take in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from bot.husbandry.animal import Animal
from bot.husbandry.effects import left_of
from bot.husbandry.outlook_record import (
    MEASURING_KINDS,
    MOLT_KINDS,
    OFFER_KINDS,
    SIGN_KINDS,
    Measure,
    distinct_molts,
)
from bot.husbandry.state import SpecimenState, journal_order, state_of
from bot.terms import Entry, Kind, Specimen

__all__ = ["MOLT_KINDS", "SpecimenRecord", "distinct_molts"]

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
        return (self.first_day or date.min) <= day <= (self.state.gone_on or date.max)

    @cached_property
    def first_day(self) -> date | None:
        """The day of the first entry that is its own."""
        return next((entry.day for entry in self.entries if entry.specimens), None)

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
        return distinct_molts([entry.day for entry in self.of_kinds(*MOLT_KINDS)])

    @property
    def signs(self) -> list[tuple[date, Kind]]:
        """Seals, and signs of premolt."""
        return [(entry.day, entry.kind) for entry in self.of_kinds(*SIGN_KINDS)]

    @property
    def offers(self) -> list[tuple[date, bool]]:
        """What it took or refused; true where it refused."""
        refused = Kind.REFUSED  # asking an enum takes longer than all the rest
        return [(entry.day, entry.kind is refused) for entry in self.of_kinds(*OFFER_KINDS)]

    @property
    def warmth(self) -> list[tuple[date, Decimal]]:
        """Readings in °C, those of its place and of the whole room too."""
        return [(e.day, e.temp_c) for e in self.of_kinds(Kind.CLIMATE) if e.temp_c is not None]

    @property
    def measures(self) -> list[Measure]:
        """What it measured."""
        return [
            Measure(entry.day, entry.span_cm, entry.carapace_mm, entry.weight_g)
            for entry in self.of_kinds(*MEASURING_KINDS)
        ]

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
