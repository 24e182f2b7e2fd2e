"""``export``: the whole shelf as CSV files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

import click
from sqlalchemy import select

from bot.commands.csv_cells import (
    JOURNAL_COLUMNS,
    SPECIMEN_COLUMNS,
    Arrival,
    journal_row,
    specimen_row,
    write_csv,
)
from bot.commands.errors import Failure
from bot.commands.options import db_option, debug_option, keeper_option
from bot.commands.store import opened, some_keeper
from bot.terms import Entry, Kind, Specimen, Stage
from storage import Work, tables
from storage.keys import key_of
from storage.records import JournalEntry, StoredSpecimen


@click.command("export")
@click.argument("folder", metavar="DIR", type=click.Path(file_okay=False, path_type=Path))
@db_option
@keeper_option
@debug_option
def export_command(folder: Path, db: str | None, keeper_name: str | None) -> None:
    """Write the whole shelf to specimens.csv and journal.csv in a folder, for any spreadsheet.

    Animals that died or left are among them. "lot_size" is the number that a lot came with; the
    journal tells who died or left since. import reads both files back to the same entries.

    \b
    Example:
      burrowbell export my-shelf
    """
    with opened(db) as store, store.look() as work:
        shelf = read_shelf(work, some_keeper(work, keeper_name).shelf_id)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_csv(folder / "specimens.csv", SPECIMEN_COLUMNS, [specimen_row(one) for one in shelf.specimens])
        write_csv(folder / "journal.csv", JOURNAL_COLUMNS, [journal_row(entry) for entry in shelf.entries])
    except OSError as problem:
        raise Failure(f"{folder}: {problem.strerror}") from problem
    click.echo(f"{len(shelf.specimens)} specimens and {len(shelf.entries)} entries are in {folder}.")


@dataclass(frozen=True, slots=True)
class ShelfOnPaper:
    """All specimens of a shelf, living or gone, and their entries in the order of days."""

    specimens: tuple[Arrival, ...]
    entries: tuple[Entry, ...]


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
            Arrival(_as_it_came(stored, tags, starts[stored.id], stored.id in matured), stored.added_on)
            for stored in everyone
        ),
        tuple(_of_tag(row, whose, tags) for row in rows),
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
        entry.shelf_id == shelf_id, entry.specimen_id.is_not(None), entry.live
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
    return row.entry if owner is None else replace(row.entry, specimens=(tags[owner],))
