"""What arrives from a file: looked at as a whole, and then taken in as one change, or not at all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final

from bot.commands.csv_cells import (
    JOURNAL_COLUMNS,
    NUMBERS,
    SPECIMEN_COLUMNS,
    Arrival,
    entry_of,
    specimen_of,
)
from bot.commands.sheets import Fault, Row, read_table
from bot.exchange.how_often import NOT_SAID, HowOften, rows_of
from bot.exchange.whole import NotAShelfError, from_json
from bot.terms import Entry, Kind, Specimen
from bot.terms.schedule import Schedule
from storage import Work
from storage.bulk import fill
from storage.errors import NotStorableError
from storage.keys import key_of
from storage.records import Keeper
from storage.rows import as_stored

#: Kinds that are of the whole shelf, or may be: their entries need no tag.
_OF_THE_SHELF: Final = frozenset({Kind.ACQUIRED, Kind.STOCKED, Kind.COUNTED, Kind.CLIMATE})


class RefusedError(Exception):
    """Rows that cannot be taken; nothing is stored."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__()
        self.faults = sorted(faults, key=lambda fault: fault.row)


@dataclass(frozen=True, slots=True)
class Intake:
    """A file on its way onto a keeper's shelf; with ``check`` it is only looked at."""

    work: Work
    keeper: Keeper
    file: Path
    now: datetime
    check: bool

    def fill(self, arrivals: Sequence[Arrival], entries: Sequence[Entry], said: HowOften = NOT_SAID) -> None:
        """Stores what is new, as one change."""
        if self.check or not (arrivals or entries or said != NOT_SAID):
            return
        change_id = fill(
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
        for (of, group), days in said.schedule.every.items():
            self.work.schedules.set(change_id, of, group, days)
        if said.schedule.slow is not None:
            self.work.schedules.set_slow(change_id, said.schedule.slow)
        for tag, of, days in said.own:
            self.work.shelves.alter(change_id, tag, **{f"{of.value}_every": days})


@dataclass(frozen=True, slots=True)
class Taken:
    """How many rows were new, and how many on the shelf already."""

    new: int
    known: int


# --- specimens ------------------------------------------------------------------------------


def take_specimens(intake: Intake) -> Taken:
    """Takes in a table of specimens. Raises :class:`RefusedError`."""
    raw, faults = read_table(intake.file, SPECIMEN_COLUMNS, numbers=NUMBERS)
    read = [specimen_of(row) for row in raw]
    faults += [found for found in read if isinstance(found, Fault)]
    rows = [found for found in read if isinstance(found, Row)]
    new, more = _new_specimens(intake, rows)
    if faults + more:
        raise RefusedError(faults + more)
    intake.fill(new, [])
    return Taken(len(new), len(rows) - len(new))


def _new_specimens(intake: Intake, rows: Sequence[Row[Arrival]]) -> tuple[list[Arrival], list[Fault]]:
    """Those who are not on the shelf yet, and why rows cannot be taken."""
    standing = intake.work.shelves.specimens(intake.keeper.shelf_id)
    here = {key_of(stored.specimen.tag): stored.specimen for stored in standing}
    faults = list(_taken_tags(rows, here))
    today = intake.now.date()
    faults += [
        _in_the_future(row.number, "added_on", row.value.on)
        for row in rows
        if row.value.on is not None and row.value.on > today
    ]
    return [row.value for row in rows if key_of(row.value.specimen.tag) not in here], faults


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


def take_journal(intake: Intake) -> Taken:
    """Takes in a table of entries. Raises :class:`RefusedError`."""
    raw, faults = read_table(intake.file, JOURNAL_COLUMNS, numbers=NUMBERS)
    rows: list[Row[Entry]] = []
    for found in map(entry_of, raw):
        if isinstance(found, Row):
            rows.append(found)
        else:
            faults += found
    new, more = _new_entries(intake, rows, [])
    if faults + more:
        raise RefusedError(faults + more)
    intake.fill([], new)
    return Taken(len(new), len(rows) - len(new))


def _new_entries(
    intake: Intake, rows: Sequence[Row[Entry]], arriving: Sequence[Arrival]
) -> tuple[list[Entry], list[Fault]]:
    """Entries that the journal does not have yet, and why rows cannot be taken."""
    work, shelf_id = intake.work, intake.keeper.shelf_id
    everyone = [*work.shelves.specimens(shelf_id, gone=True), *work.shelves.specimens(shelf_id)]
    known = [stored.specimen.tag for stored in everyone] + [one.specimen.tag for one in arriving]
    tags = {key_of(tag): tag for tag in known}
    entries, faults = [], []
    for row in rows:
        problems = list(_entry_faults(row, tags, intake.now.date()))
        faults += problems
        if not problems:
            specimens = tuple(tags[key_of(tag)] for tag in row.value.specimens)
            entries.append(replace(as_stored(row.value), specimens=specimens))
    there = Counter(row.entry for row in work.journal.entries(shelf_id))
    return list(_not_yet(entries, there)), faults


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


# --- a whole shelf --------------------------------------------------------------------------


def take_shelf(intake: Intake) -> Taken:
    """Takes in specimens, journal, and how often, of a shelf in one file. Raises :class:`RefusedError`.

    What the keeper has said here of how often stands. Settings, reminders and holds are the keeper's own
    matter and are left as they are.
    """
    try:
        shelf = from_json(intake.file.read_text(encoding="utf-8-sig"))
    except NotAShelfError as problem:
        raise RefusedError([Fault(1, "", f"the file {problem}")]) from problem
    cards = [Row(n, Arrival(specimen, on)) for n, (specimen, on) in enumerate(shelf.specimens, 1)]
    told = [Row(n, entry) for n, entry in enumerate(shelf.entries, 1)]
    arriving, faults = _new_specimens(intake, cards)
    new, more = _new_entries(intake, told, arriving)
    faults = [replace(f, column=f"specimens {f.column}") for f in faults]
    faults += [replace(f, column=f"journal {f.column}") for f in more]
    said, strangers = _not_yet_said(intake, shelf.how_often, arriving)
    faults += strangers
    if faults:
        raise RefusedError(faults)
    intake.fill(arriving, new, said)
    rows, taken = len(cards) + len(told), len(arriving) + len(new)
    often, taken_often = len(list(rows_of(shelf.how_often))), len(list(rows_of(said)))
    return Taken(taken + taken_often, rows + often - taken - taken_often)


def _not_yet_said(
    intake: Intake, said: HowOften, arriving: Sequence[Arrival]
) -> tuple[HowOften, list[Fault]]:
    """What a file says of how often and nobody has said here yet; and tags that nobody has."""
    here = intake.work.schedules.current(intake.keeper.shelf_id)
    living = {key_of(f.specimen.tag): f for f in intake.work.shelves.facts(intake.keeper.shelf_id)}
    known = living.keys() | {key_of(one.specimen.tag) for one in arriving}
    faults = [
        Fault(1, "how_often", f"nobody on the shelf has the tag {tag}")
        for tag, _, _ in said.own
        if key_of(tag) not in known
    ]
    own = tuple(
        (tag, of, days)
        for tag, of, days in said.own
        if (facts := living.get(key_of(tag))) is None or facts.own_interval(of) is None
    )
    every = {key: days for key, days in said.schedule.every.items() if key not in here.every}
    return HowOften(Schedule(every, None if here.slow else said.schedule.slow), own), faults
