"""``export``: the whole shelf in open formats."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from bot.commands.csv_cells import (
    JOURNAL_COLUMNS,
    SPECIMEN_COLUMNS,
    Arrival,
    journal_row,
    specimen_row,
    write_csv,
)
from bot.commands.errors import Failure
from bot.commands.feeds import due_feed
from bot.commands.options import db_option, debug_option, in_zone, keeper_option, now_option
from bot.commands.store import opened, some_keeper
from bot.conversation.whole_data import whole_data
from bot.exchange.darwin_core import archive
from bot.exchange.whole import WholeShelf, to_json
from storage.album import Album
from storage.shelf_on_paper import read_shelf


@click.command("export")
@click.argument("folder", metavar="DIR", type=click.Path(file_okay=False, path_type=Path))
@db_option
@keeper_option
@now_option
@debug_option
def export_command(folder: Path, db: str | None, keeper_name: str | None, now: datetime | None) -> None:
    """Write the whole shelf to a folder: for spreadsheets, collections, calendars, and one file of all.

    \b
    specimens.csv, journal.csv   for any spreadsheet; import reads them back to the same entries
    shelf.json                   the same in one file, with intervals, settings, reminders, holds and more
    photos/                      the photos, under the paths that shelf.json tells
    darwin-core.zip              a Darwin Core archive, for collections and registers
    due.ics                      what is due next for each animal, and reminders, for a calendar

    Animals that died or left are among them. Sex, stage, "span_cm" and "lot_size" are what an animal or
    a lot came as; the journal tells who grew, matured, died or left since.

    \b
    Example:
      burrowbell export my-shelf
    """
    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, keeper_name)
        moment = in_zone(now, keeper.settings.zone)
        shelf = read_shelf(work, keeper.shelf_id)
        whole = whole_data(work, keeper, shelf)
        due = due_feed(work, keeper, moment)
    arrivals = [Arrival(specimen, on) for specimen, on in shelf.as_they_came()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_csv(folder / "specimens.csv", SPECIMEN_COLUMNS, [specimen_row(one) for one in arrivals])
        write_csv(folder / "journal.csv", JOURNAL_COLUMNS, [journal_row(entry) for entry in shelf.entries])
        (folder / "shelf.json").write_text(to_json(whole), encoding="utf-8", newline="\n")
        (folder / "darwin-core.zip").write_bytes(
            archive(shelf.arrivals(), shelf.occurrences(), title="Tarantulas of a keeper")
        )
        (folder / "due.ics").write_bytes(due)
        _copy_photos(store.album, whole, folder / "photos")
    except OSError as problem:
        raise Failure(f"{folder}: {problem.strerror}") from problem
    click.echo(f"{len(shelf.specimens)} specimens and {len(shelf.entries)} entries are in {folder}.")


def _copy_photos(album: Album | None, whole: WholeShelf, folder: Path) -> None:
    target = Album(folder)
    for path in (photo["file"] for photo in whole.photos):
        if album is not None and path and (file := album.file(path)):
            target.write(path, file.read_bytes())
