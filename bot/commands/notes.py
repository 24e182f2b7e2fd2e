"""``import --what notes``: an old notebook, read as if each note were written to the bot on its day.

What is sure is shown, and stored when that is asked for; the rest is written to a file, each line with its
question above it, to be filled in and taken in like any notebook.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import count
from pathlib import Path
from typing import Final

import click

from bot.commands.arriving import Intake
from bot.commands.errors import Failure, Refusal
from bot.commands.options import print_json
from bot.commands.store import note
from bot.conversation import wording
from bot.conversation.texts import has, say_of
from bot.reading import ShelfNames
from bot.reading.model import ReadingKind
from bot.reading.notebook import ReadNote, is_sure, notes_in, read_notes
from bot.terms import Entry, Specimen
from storage import Work
from storage.records import Keeper, StoredSpecimen
from storage.rows import as_stored

#: Why a note has no day.
_NO_DAY: Final = {
    "no_day": "no date stands above it; begin the line with one",
    "no_year": "of which year? write it behind the date, or call with --year",
    "no_such_day": "there is no such day; correct the date",
    "either_order": "day and month may stand either way round, as another date shows; write 2025-03-12",
    "future_day": "that day lies in the future; correct the date or its year",
    "days_out_of_order": "the date lies before the one above; write the year behind it",
    "date_or_not": "is that a date, a name or an amount? write the date as 2025-03-12",
}
#: How a note is read that is no entry.
_NO_ENTRY: Final = {
    ReadingKind.UNCLEAR: "this says nothing that can be stored; say who did what, or leave it out",
    ReadingKind.QUESTION: "this asks something; leave it out or write what happened",
    ReadingKind.AMEND: "this corrects another note; write it into that one",
    ReadingKind.REMINDER: "this is a reminder; write it to the bot instead",
    ReadingKind.HOLD: "this is about feeding prompts; write it to the bot instead",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Notebook:
    """A notebook that has been read: what would be stored, what was stored before, and what is open."""

    entries: tuple[tuple[int, Entry], ...]
    known: int
    rest: tuple[tuple[ReadNote, str], ...]


def read_notebook(work: Work, keeper: Keeper, text: str, *, now: datetime, year: int | None) -> Notebook:
    """Reads a notebook over the keeper's shelf; entries that the journal has already are left out."""
    stored = _everyone(work, keeper.shelf_id)
    specimens = tuple(replace(s.specimen, lot_size=max(1, s.specimen.lot_size)) for s in stored)
    came = {one.specimen.tag: one for one in stored}
    settings = keeper.settings
    notes = notes_in(
        text,
        today=settings.day_of(now),
        order=settings.date_order,
        language=settings.language,
        year=year,
        names=list(_called(specimens)),
    )
    read = read_notes(notes, ShelfNames.of(specimens), now=now, settings=settings)
    sure = [one for one in read if is_sure(one) and not _newcomers(one, came)]
    told = [(one.note.line, entry) for one in sure for entry in _single(one)]
    there = Counter(row.entry for row in work.journal.entries(keeper.shelf_id))
    new = list(_not_there(told, there))
    return Notebook(
        entries=tuple(new),
        known=len(told) - len(new),
        rest=tuple((one, _question(one, came)) for one in read if one not in sure or _beside(one)),
    )


def _everyone(work: Work, shelf_id: int) -> list[StoredSpecimen]:
    """The living in shelf order, then those gone whose tag nobody bears now."""
    living = list(work.shelves.specimens(shelf_id))
    tags = {one.specimen.tag for one in living}
    gone = {
        o.specimen.tag: o for o in work.shelves.specimens(shelf_id, gone=True) if o.specimen.tag not in tags
    }
    return [*living, *gone.values()]


def _newcomers(read: ReadNote, came: Mapping[str, StoredSpecimen]) -> list[str]:
    """Who is only meant by a word for several ("everyone"), and came to the shelf after the note's day."""
    if read.reading is None:
        return []
    said = read.note.text.casefold()
    late = []
    for entry in read.reading.entries:
        for tag in entry.specimens if len(entry.specimens) > 1 else ():
            stored = came[tag]
            named = [tag, *_called([stored.specimen])]
            if stored.added_on > entry.day and not any(name.casefold() in said for name in named):
                late.append(tag)
    return late


def _called(specimens: Sequence[Specimen]) -> Iterator[str]:
    for specimen in specimens:
        yield from (name for name in (specimen.name, *specimen.aka) if name)


def _single(read: ReadNote) -> Iterator[Entry]:
    """The entries of a note as the journal keeps them, each of one specimen."""
    assert read.reading is not None
    for entry in read.reading.entries:
        stored = as_stored(entry)
        if stored.specimens:
            yield from (replace(stored, specimens=(tag,)) for tag in stored.specimens)
        else:
            yield stored


def _not_there(told: Sequence[tuple[int, Entry]], there: Counter[Entry]) -> Iterator[tuple[int, Entry]]:
    left = there.copy()
    for line, entry in told:
        if left[entry] > 0:
            left[entry] -= 1
        else:
            yield line, entry


def _beside(read: ReadNote) -> bool:
    """Whether a note says more than its entries: a reminder, a hold or a question, which is not taken in."""
    reading = read.reading
    return reading is not None and any((reading.reminder, reading.hold, reading.question))


def _question(read: ReadNote, came: Mapping[str, StoredSpecimen]) -> str:
    """Why a note is not stored as it stands, and what to write instead."""
    if read.note.day is None or read.reading is None:
        return _NO_DAY[read.note.doubt]
    if late := _newcomers(read, came):
        return f"not all of them were there on that day ({', '.join(late)}); name those who were"
    ask = read.reading.ask
    if ask is None:
        return _NO_ENTRY.get(read.reading.reading, "its second half is left out; write it to the bot")
    if has("ask.doubt", ask.doubt):
        sentence = say_of("ask.doubt", ask.doubt, words=ask.words)
    else:
        sentence = say_of("ask.about", ask.about.value, words=ask.words)
    choices = [option.value for option in ask.options] or list(ask.choices)
    return f"{sentence} ({', '.join(choices)})" if choices else sentence


# --- the command ---------------------------------------------------------------------------------


def take_notes(intake: Intake, *, store: bool, year: int | None, as_json: bool) -> None:
    """Shows what a notebook holds; with ``store``, stores what is sure and writes down the rest."""
    try:
        text = intake.file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as problem:
        raise Refusal(f"{intake.file} is not UTF-8 text; save it as UTF-8") from problem
    notebook = read_notebook(intake.work, intake.keeper, text, now=intake.now, year=year)
    for row in notebook.entries:
        _show(row, intake, as_json=as_json)
    if not store:
        _ask(notebook, as_json=as_json)
    else:
        intake.fill([], [entry for _, entry in notebook.entries])
    known = f", {notebook.known} known already" if notebook.known else ""
    note(f"{_entries(len(notebook.entries))} {'stored' if store else 'could be stored; add --store'}{known}.")
    if store and notebook.rest:
        try:
            path = write_open_lines(intake.file, notebook)
        except OSError as problem:
            raise Failure(f"the open lines cannot be written: {problem.strerror}") from problem
        note(f"{len(notebook.rest)} lines have a question; fill them in and take them in: {path}")


def _entries(number: int) -> str:
    return f"{number} entry" if number == 1 else f"{number} entries"


def _show(row: tuple[int, Entry], intake: Intake, *, as_json: bool) -> None:
    line, entry = row
    if as_json:
        print_json({"row": line, **entry.to_json()})
        return
    who = wording.listed(list(entry.specimens)) or "the shelf"
    told = wording.told(entry, intake.keeper.settings)
    click.echo(f"line {line}: {entry.day.isoformat()}, {who}: {told}")


def _ask(notebook: Notebook, *, as_json: bool) -> None:
    for read, question in notebook.rest:
        if as_json:
            print_json({"row": read.note.line, "column": "", "problem": question})
        else:
            click.echo(f"line {read.note.line}: {read.note.text}\n  ? {question}")


# --- shown and written ---------------------------------------------------------------------------


def open_lines(notebook: Notebook) -> str:
    """The notes that are not stored yet, each under its question, as a notebook of their own."""
    lines: list[str] = [
        "# Each line below could not be stored as it stands. Change it as its question asks, keep its date,",
        "# and take this file in as notes again. Lines that begin with # are not read.",
    ]
    for read, question in notebook.rest:
        day: date | None = read.note.day
        dated = f"{day.isoformat()}: {read.note.text}" if day else read.note.written
        lines += ["", f"# line {read.note.line}: {question}", dated]
    return "\n".join(lines) + "\n"


def write_open_lines(beside: Path, notebook: Notebook) -> Path:
    """Writes them beside the notebook, over no file that is there. Gives the path; raises ``OSError``."""
    for number in count(1):
        path = beside.with_name(f"{beside.stem}-open{number if number > 1 else ''}.txt")
        try:
            with path.open("x", encoding="utf-8") as file:
                file.write(open_lines(notebook))
        except FileExistsError:
            continue
        return path
    raise AssertionError("there are numbers enough")
