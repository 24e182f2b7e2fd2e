"""``import``: specimens, a journal or a whole shelf from a file, all or nothing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from types import MappingProxyType
from typing import Final

import click

from bot.commands.arriving import Intake, RefusedError, Taken, take_journal, take_shelf, take_specimens
from bot.commands.errors import Refusal
from bot.commands.notes import take_notes
from bot.commands.options import (
    db_option,
    debug_option,
    in_zone,
    input_file,
    json_option,
    keeper_option,
    now_option,
    print_json,
)
from bot.commands.sheets import Fault
from bot.commands.store import note, opened, some_keeper

_IMPORTS: Final = MappingProxyType[str, Callable[[Intake], Taken]](
    {"specimens": take_specimens, "journal": take_journal, "shelf": take_shelf}
)


@click.command("import")
@click.argument("file", type=input_file)
@click.option(
    "--what",
    type=click.Choice(["specimens", "journal", "shelf", "notes"]),
    help="What FILE holds.  [default: by its name]",
)
@click.option("--check", is_flag=True, help="Only say what is wrong with the file; store nothing.")
@click.option("--store", "stores", is_flag=True, help="Notes only: store what is sure, after it was shown.")
@click.option("--year", type=click.IntRange(1900, 2200), help="Notes only: the year of the first date.")
@db_option
@keeper_option
@now_option
@json_option
@debug_option
def import_command(
    *,
    file: Path,
    what: str | None,
    check: bool,
    stores: bool,
    year: int | None,
    db: str | None,
    keeper_name: str | None,
    now: datetime | None,
    as_json: bool,
) -> None:
    """Take in specimens, a journal, a shelf or old notes.

    Of tables and shelves all is taken in, or nothing where a row has a fault.

    Tables may be CSV or xlsx, a shelf is the shelf.json that export writes. Rows are numbered as a
    spreadsheet shows them: the header is row 1. Days are written 2026-05-14, so that none is guessed.
    What is on the shelf already, word for word, is left out, so that taking in a file twice does no
    harm.

    Notes are text with dates ("12/3 Ink 2 crickets, refused by Sunny"), read as the bot reads messages.
    They are shown first; with --store what is sure is stored, and the rest goes into a file with a
    question above each line, to be filled in and taken in again.

    \b
    Examples:
      burrowbell import my-shelf/specimens.csv
      burrowbell import my-shelf/journal.csv --check
      burrowbell import --what notes notebook-2024.txt --store
    """
    what = what or file.stem
    if what not in {*_IMPORTS, "notes"}:
        raise Refusal("--what: say whether the file holds specimens, a journal, a shelf or notes")
    with opened(db) as store, store.begin() as work:
        keeper = some_keeper(work, keeper_name)
        moment = in_zone(now, keeper.settings.zone)
        intake = Intake(work, keeper, file, moment, check)
        if what == "notes":
            take_notes(intake, store=stores and not check, year=year, as_json=as_json)
            return
        try:
            taken = _IMPORTS[what](intake)
        except RefusedError as refused:
            _tell(refused.faults, as_json)
            raise Refusal(
                f"{file}: {_rows(len({fault.row for fault in refused.faults}))} refused; nothing was stored"
            ) from None
        except UnicodeDecodeError as problem:
            raise Refusal(f"{file} is not UTF-8 text; save it as CSV UTF-8") from problem
    left_out = f", {taken.known} on the shelf already" if taken.known else ""
    note(f"{_rows(taken.new)} {'could be taken in' if check else 'taken in'}{left_out}.")


def _tell(faults: Sequence[Fault], as_json: bool) -> None:
    for fault in faults:
        if as_json:
            print_json({"row": fault.row, "column": fault.column, "problem": fault.problem})
        else:
            column = f", {fault.column}" if fault.column else ""
            click.echo(f"row {fault.row}{column}: {fault.problem}")


def _rows(count: int) -> str:
    return f"{count} row" if count == 1 else f"{count} rows"
