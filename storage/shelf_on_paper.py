"""A shelf for writing down: every specimen, living or gone, under a tag of its own, and all entries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from sqlalchemy import select

from bot.terms import Entry, Kind, Specimen, Stage
from storage import tables
from storage.keys import key_of
from storage.records import JournalEntry, StoredSpecimen
from storage.work import Work

if TYPE_CHECKING:
    from bot.husbandry.journal import SpecimenRecord


@dataclass(frozen=True, slots=True)
class ShelfOnPaper:
    """All specimens of a shelf, living or gone, each with the day on which it came, and their entries in the
    order of days; ``taken_back`` are those undone or replaced."""

    specimens: tuple[tuple[Specimen, date], ...]
    entries: tuple[Entry, ...]
    taken_back: tuple[Entry, ...]

    def records(self) -> list[SpecimenRecord]:
        """Each specimen with its own entries and what the room was like."""
        from bot.husbandry.records import shelf_records  # noqa: PLC0415  numpy costs; most look at entries

        return shelf_records([specimen for specimen, _ in self.specimens], self.entries)


def read_shelf(work: Work, shelf_id: int) -> ShelfOnPaper:
    """The shelf for writing down: with each tag standing for one specimen, also where tags were reused."""
    everyone = sorted(
        (*work.shelves.specimens(shelf_id, gone=True), *work.shelves.specimens(shelf_id)),
        key=lambda stored: (stored.position, stored.id),
    )
    tags = _tags(everyone)
    whose = _whose(work, shelf_id)
    rows = work.journal.entries(shelf_id, newest_first=False)
    matured = {whose.get(row.id) for row in rows if row.entry.kind is Kind.MATURED}
    starts = _starts(work, shelf_id)
    return ShelfOnPaper(
        tuple(
            (_as_it_came(stored, tags, starts[stored.id], stored.id in matured), stored.added_on)
            for stored in everyone
        ),
        tuple(_of_tag(row, whose, tags) for row in rows),
        tuple(_of_tag(row, whose, tags) for row in work.journal.taken_back(shelf_id)),
    )


def _tags(everyone: list[StoredSpecimen]) -> dict[int, str]:
    """Each specimen's tag; a gone one whose tag is used again gets its number behind it."""
    tags: dict[int, str] = {}
    taken: set[str] = set()
    for stored in sorted(everyone, key=lambda stored: stored.gone_on is not None):
        tag = stored.specimen.tag
        if key_of(tag) in taken:
            tag = f"{tag}-gone-{stored.id}"
        taken.add(key_of(tag))
        tags[stored.id] = tag
    return tags


def _whose(work: Work, shelf_id: int) -> dict[int, int]:
    """The number of the specimen that each entry of a shelf belongs to."""
    entry = tables.entry.c
    query = select(entry.id, entry.specimen_id).where(
        entry.shelf_id == shelf_id, entry.specimen_id.is_not(None)
    )
    return {row.id: row.specimen_id for row in work.connection.execute(query)}


def _starts(work: Work, shelf_id: int) -> dict[int, Mapping[str, object]]:
    """What each specimen was added as, before anything was entered."""
    specimen = tables.specimen.c
    query = select(specimen.id, specimen.added_as).where(specimen.shelf_id == shelf_id)
    return {row.id: row.added_as for row in work.connection.execute(query)}


def _as_it_came(
    stored: StoredSpecimen, tags: Mapping[int, str], start: Mapping[str, object], matured: bool
) -> Specimen:
    """The specimen as it is now, but for what the journal will tell again: deaths in a lot, maturing."""
    specimen = replace(stored.specimen, tag=tags[stored.id], lot_size=int(str(start["lot_size"])))
    return replace(specimen, stage=Stage(str(start["stage"]))) if matured else specimen


def _of_tag(row: JournalEntry, whose: Mapping[int, int], tags: Mapping[int, str]) -> Entry:
    owner = whose.get(row.id)
    if owner is None or owner not in tags:  # of the shelf as a whole, or of one whose adding was undone
        return row.entry
    return replace(row.entry, specimens=(tags[owner],))
