"""Records of invented animals whose cards tell what they came as."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.records import shelf_records
from bot.husbandry.start import start_of
from bot.terms import Entry, Specimen


def record_of(specimen: Specimen, entries: Iterable[Entry]) -> SpecimenRecord:
    """The record of one that came as its card has it."""
    return SpecimenRecord.of(specimen, entries, start_of(specimen, None))


def records_of(specimens: Sequence[Specimen], entries: Iterable[Entry]) -> list[SpecimenRecord]:
    """The records of a shelf of which each came as its card has it."""
    return shelf_records([(one, start_of(one, None)) for one in specimens], entries)
