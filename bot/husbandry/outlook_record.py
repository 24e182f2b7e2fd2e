"""What forecasts look at of an animal's journal: its molts, their signs, its meals, warmth and size.

A record with all entries (``journal.SpecimenRecord``) tells it, and so does one that the store made of just
the few columns that matter: most of the entries of years are waterings.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Final, NamedTuple, Protocol

from bot.husbandry.animal import Animal
from bot.husbandry.state import SAME_MOLT_DAYS, SpecimenState
from bot.terms import Kind, Specimen

MOLT_KINDS: Final = frozenset({Kind.MOLTED, Kind.MATURED})
SIGN_KINDS: Final = frozenset({Kind.SEALED, Kind.PREMOLT})
OFFER_KINDS: Final = frozenset({Kind.FED, Kind.REFUSED})
MEASURING_KINDS: Final = frozenset({Kind.MEASURED, Kind.ACQUIRED})


class Measure(NamedTuple):
    """What an animal measured on a day, by span, carapace and weight; ``None`` for what was not taken."""

    day: date
    span_cm: Decimal | None
    carapace_mm: Decimal | None
    weight_g: Decimal | None


class OutlookRecord(Protocol):
    """One animal with what forecasts look at of its journal; all of it in the order of the journal."""

    @property
    def specimen(self) -> Specimen:
        """Who it is."""

    @property
    def state(self) -> SpecimenState:
        """What its journal adds up to."""

    @property
    def animal(self) -> Animal:
        """The specimen with its state and species."""

    @property
    def came(self) -> int:
        """How many animals it came as: 1, or the size of the lot."""

    @property
    def first_day(self) -> date | None:
        """The day of the first entry that is its own."""

    @property
    def molt_days(self) -> tuple[date, ...]:
        """The days of its molts, the ultimate one too; one written down twice counts once."""

    @property
    def signs(self) -> Sequence[tuple[date, Kind]]:
        """Seals, and signs of premolt."""

    @property
    def offers(self) -> Sequence[tuple[date, bool]]:
        """What it took or refused; true where it refused."""

    @property
    def warmth(self) -> Sequence[tuple[date, Decimal]]:
        """Readings in °C, those of its place and of the whole room too."""

    @property
    def measures(self) -> Sequence[Measure]:
        """What it measured."""

    def until(self, on: date) -> OutlookRecord:
        """The record as it stood at the end of a day."""


@dataclass(frozen=True, kw_only=True)
class ShortRecord:
    """An :class:`OutlookRecord` that was picked out of a store, without any of the entries."""

    specimen: Specimen
    state: SpecimenState
    came: int
    molt_days: tuple[date, ...]
    signs: Sequence[tuple[date, Kind]]
    offers: Sequence[tuple[date, bool]]
    warmth: Sequence[tuple[date, Decimal]]
    measures: Sequence[Measure]

    @cached_property
    def animal(self) -> Animal:
        """The specimen with its state and species."""
        return Animal(self.specimen, self.state)

    @property
    def first_day(self) -> date | None:
        """The day of the first entry that is its own."""
        return self.state.first_entry

    def until(self, on: date) -> ShortRecord:
        """Itself: it cannot be cut off. Raises ``ValueError`` for a day before its last entry."""
        if self.state.last_entry is not None and self.state.last_entry > on:
            raise ValueError(f"the record of {self.specimen.tag} goes beyond {on}")
        return self


def distinct_molts(days: Iterable[date]) -> tuple[date, ...]:
    """Molt days in order, without those that repeat the one before."""
    kept: list[date] = []
    for day in days:
        if not kept or (day - kept[-1]).days >= SAME_MOLT_DAYS:
            kept.append(day)
    return tuple(kept)
