"""``import``: specimens or a journal from CSV, all or nothing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Final

import click

from bot.commands.csv_cells import (
    JOURNAL_COLUMNS,
    SPECIMEN_COLUMNS,
    Arrival,
    Fault,
    Row,
    entry_of,
    read_csv,
    specimen_of,
)
from bot.commands.errors import Refusal
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
from bot.commands.store import note, opened, some_keeper
from bot.terms import Entry, Kind, Specimen
from storage import Work
from storage.bulk import fill
from storage.errors import NotStorableError
from storage.keys import key_of
from storage.records import Keeper
from storage.rows import as_stored

#: Kinds that are of the whole shelf, or may be: their entries need no tag.
_OF_THE_SHELF: Final = frozenset({Kind.ACQUIRED, Kind.STOCKED, Kind.CLIMATE})


class _RefusedError(Exception):
    """Rows that cannot be taken; nothing is stored."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__()
        self.faults = sorted(faults, key=lambda fault: fault.row)


@dataclass(frozen=True, slots=True)
class _Intake:
    """A file on its way onto a keeper's shelf; with ``check`` it is only looked at."""

    work: Work
    keeper: Keeper
    file: Path
    now: datetime
    check: bool

    def fill(self, arrivals: Sequence[Arrival], entries: Sequence[Entry]) -> None:
        """Stores what is new, as one change."""
        if self.check or not (arrivals or entries):
            return
        fill(
            self.work,
            self.keeper.shelf_id,
            self.keeper.id,
            [arrival.specimen for arrival in arrivals],
            entries,
            added_on={arrival.specimen.tag: arrival.on for arrival in arrivals if arrival.on},
            at=self.now.astimezone(UTC),
            zone=self.keeper.settings.zone,
            origin=f"import:{self.file.name}",
        )


@click.command("import")
@click.argument("file", type=input_file)
@click.option(
    "--what", type=click.Choice(["specimens", "journal"]), help="What FILE holds.  [default: by its name]"
)
@click.option("--check", is_flag=True, help="Only say what is wrong with the file; store nothing.")
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
    db: str | None,
    keeper_name: str | None,
    now: datetime | None,
    as_json: bool,
) -> None:
    """Take in specimens or a journal from CSV: all of it, or nothing where a row has a fault.

    Rows are numbered as a spreadsheet shows them: the header is row 1. What is on the shelf
    already, word for word, is left out, so that taking in a file twice does no harm.

    \b
    Examples:
      burrowbell import my-shelf/specimens.csv
      burrowbell import my-shelf/journal.csv --check
    """
    what = what or file.stem
    if what not in _IMPORTS:
        raise Refusal("--what: say whether the file holds specimens or a journal")
    with opened(db) as store, store.begin() as work:
        keeper = some_keeper(work, keeper_name)
        moment = in_zone(now, keeper.settings.zone)
        try:
            new, known = _IMPORTS[what](_Intake(work, keeper, file, moment, check))
        except _RefusedError as refused:
            _tell(refused.faults, as_json)
            raise Refusal(
                f"{file}: {_rows(len({fault.row for fault in refused.faults}))} refused; nothing was stored"
            ) from None
        except UnicodeDecodeError as problem:
            raise Refusal(f"{file} is not UTF-8 text; save it as CSV UTF-8") from problem
    left_out = f", {known} on the shelf already" if known else ""
    note(f"{_rows(new)} {'could be taken in' if check else 'taken in'}{left_out}.")


def _tell(faults: Sequence[Fault], as_json: bool) -> None:
    for fault in faults:
        if as_json:
            print_json({"row": fault.row, "column": fault.column, "problem": fault.problem})
        else:
            column = f", {fault.column}" if fault.column else ""
            click.echo(f"row {fault.row}{column}: {fault.problem}")


def _rows(count: int) -> str:
    return f"{count} row" if count == 1 else f"{count} rows"


# --- specimens ------------------------------------------------------------------------------


def _take_specimens(intake: _Intake) -> tuple[int, int]:
    """How many are new, and how many on the shelf already. Raises :class:`_RefusedError`."""
    raw, faults = read_csv(intake.file, SPECIMEN_COLUMNS)
    read = [specimen_of(row) for row in raw]
    faults += [found for found in read if isinstance(found, Fault)]
    rows = [found for found in read if isinstance(found, Row)]
    standing = intake.work.shelves.specimens(intake.keeper.shelf_id)
    here = {key_of(stored.specimen.tag): stored.specimen for stored in standing}
    faults += _taken_tags(rows, here)
    today = intake.now.date()
    faults += [
        _in_the_future(row.number, "added_on", row.value.on)
        for row in rows
        if row.value.on is not None and row.value.on > today
    ]
    if faults:
        raise _RefusedError(faults)
    new = [row.value for row in rows if key_of(row.value.specimen.tag) not in here]
    intake.fill(new, [])
    return len(new), len(rows) - len(new)


def _taken_tags(rows: Sequence[Row[Arrival]], here: dict[str, Specimen]) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for row in rows:
        specimen = row.value.specimen
        key = key_of(specimen.tag)
        if key in first:
            yield Fault(row.number, "tag", f"{specimen.tag} is in row {first[key]} already")
        elif key in here and not _same_animal(here[key], specimen):
            yield Fault(row.number, "tag", f"{specimen.tag} is the tag of another animal on the shelf")
        first.setdefault(key, row.number)


def _same_animal(one: Specimen, other: Specimen) -> bool:
    """Whether two cards are of one animal, which may have grown, matured or lost some of its lot since."""
    return (one.name, one.species) == (other.name, other.species)


# --- journal --------------------------------------------------------------------------------


def _take_journal(intake: _Intake) -> tuple[int, int]:
    """How many entries are new, and how many are in the journal already. Raises :class:`_RefusedError`."""
    raw, faults = read_csv(intake.file, JOURNAL_COLUMNS)
    rows: list[Row[Entry]] = []
    for found in map(entry_of, raw):
        if isinstance(found, Row):
            rows.append(found)
        else:
            faults += found
    work, shelf_id = intake.work, intake.keeper.shelf_id
    everyone = [*work.shelves.specimens(shelf_id, gone=True), *work.shelves.specimens(shelf_id)]
    tags = {key_of(stored.specimen.tag): stored.specimen.tag for stored in everyone}
    entries = []
    for row in rows:
        problems = list(_entry_faults(row, tags, intake.now.date()))
        faults += problems
        if not problems:
            specimens = tuple(tags[key_of(tag)] for tag in row.value.specimens)
            entries.append(replace(as_stored(row.value), specimens=specimens))
    if faults:
        raise _RefusedError(faults)
    there = Counter(row.entry for row in work.journal.entries(shelf_id))
    new = list(_not_yet(entries, there))
    intake.fill([], new)
    return len(new), len(entries) - len(new)


def _entry_faults(row: Row[Entry], tags: dict[str, str], today: date) -> Iterator[Fault]:
    entry = row.value
    if not entry.specimens and entry.kind not in _OF_THE_SHELF:
        yield Fault(row.number, "tag", f"an entry of the kind {entry.kind.value} needs the tag of its animal")
    for tag in entry.specimens:
        if key_of(tag) not in tags:
            yield Fault(row.number, "tag", f"nobody on the shelf has the tag {tag}; import specimens first")
    if entry.day > today:
        yield _in_the_future(row.number, "day", entry.day)
    try:
        as_stored(entry)
    except NotStorableError as problem:
        yield Fault(row.number, "", str(problem))


def _in_the_future(row: int, column: str, day: date) -> Fault:
    return Fault(row, column, f"{day} lies in the future")


def _not_yet(entries: Sequence[Entry], there: Counter[Entry]) -> Iterator[Entry]:
    """The entries that the journal does not have as often as the file."""
    left = there.copy()
    for entry in entries:
        if left[entry] > 0:
            left[entry] -= 1
        else:
            yield entry


_Import = Callable[[_Intake], tuple[int, int]]
_IMPORTS: Final = MappingProxyType[str, _Import]({"specimens": _take_specimens, "journal": _take_journal})
