"""``read``: how each line of standard input would be read. Stores nothing."""

from __future__ import annotations

import json
import logging
import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import click

from bot.commands.errors import Refusal
from bot.commands.lines import lines_of
from bot.commands.options import db_option, debug_option, in_zone, input_file, now_option, print_json
from bot.reading import ShelfNames, explained, read, reading_to_json
from bot.reading.model import Reading, ReadingKind
from bot.terms import KeeperSettings, Specimen
from bot.terms.shelf_file import ShelfFileError, shelf_from_json

log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of input: the message, and when it was sent where the line says so."""

    text: str
    now: datetime | None = None


@click.command("read")
@click.option(
    "--shelf", "shelf_file", type=input_file, help="A shelf as a JSON file, in place of the store's."
)
@click.option("--explain", is_flag=True, help='Add the key "explain": word by word, how it was taken.')
@db_option
@now_option
@debug_option
def read_command(*, shelf_file: Path | None, explain: bool, db: str | None, now: datetime | None) -> None:
    """Show how each line of standard input would be read; stores nothing.

    A line is a message in plain text, or a JSON object with "text" and, optionally, "now" (the
    keeper's local time). Each line gives one JSON object, in order.

    \b
    Example:
      echo 'fed Anvil two crickets yesterday' | burrowbell read --shelf shelf.json
    """
    settings, specimens = _shelf_in(shelf_file) if shelf_file else _shelf_of_store(db)
    names = ShelfNames.of(specimens)
    for line in map(line_of, lines_of(sys.stdin.buffer)):
        reading = _read(line, names, now, settings)
        answer = {**reading_to_json(reading), "text": line.text}
        if explain:
            moment = in_zone(line.now or now, settings.zone)
            answer["explain"] = [
                str(taken) for taken in explained(line.text, names, now=moment, settings=settings)
            ]
        print_json(answer)


def line_of(raw: str) -> Line:
    """A line of input as a message: a JSON object with a "text", or else plain text as it stands."""
    try:
        data = json.loads(raw)
    except (ValueError, RecursionError):
        return Line(raw)
    if not isinstance(data, dict) or not isinstance(data.get("text"), str):
        return Line(raw)
    return Line(data["text"], _moment(data.get("now")))


def _moment(value: object) -> datetime | None:
    try:
        return datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _shelf_in(path: Path) -> tuple[KeeperSettings, tuple[Specimen, ...]]:
    try:
        return shelf_from_json(json.loads(path.read_text("utf-8-sig")))
    except (ShelfFileError, json.JSONDecodeError, UnicodeDecodeError) as error:
        raise Refusal(f"{path}: {error}") from error


def _shelf_of_store(db: str | None) -> tuple[KeeperSettings, tuple[Specimen, ...]]:
    from bot.commands.store import opened, some_keeper  # noqa: PLC0415  a shelf file needs no store

    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, None)
        shelf = work.shelves.specimens(keeper.shelf_id)
    return keeper.settings, tuple(stored.specimen for stored in shelf)


def _read(line: Line, names: ShelfNames, now: datetime | None, settings: KeeperSettings) -> Reading:
    try:
        return read(line.text, names, now=in_zone(line.now or now, settings.zone), settings=settings)
    except Exception:
        # Reading is not supposed to fail; if it does, the lines behind this one still get their answer.
        log.exception("a line could not be read")
        return Reading(reading=ReadingKind.UNCLEAR, text=line.text)
