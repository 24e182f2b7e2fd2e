"""A whole shelf as one JSON object, and back: specimens, journal, and what no CSV can say.

``format`` and ``version`` come first, so that any reader knows what it has; keys in a fixed order and
values as the reading contract writes them, so that the same shelf is the same file.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final

from bot.exchange.how_often import NOT_SAID, HowOften, from_rows, rows_of
from bot.terms import Entry, Specimen
from bot.terms.shelf_file import ShelfFileError, specimen_from_json, specimen_to_json

FORMAT: Final = "burrowbell shelf"
VERSION: Final = 1
_PARTS: Final = frozenset(
    {"format", "version", "keeper", "settings", "specimens", "journal"}
    | {"how_often", "reminders", "holds", "taken_back", "photos"}
)


class NotAShelfError(ValueError):
    """The text is no shelf that this version can read; the message says what and where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeShelf:
    """Specimens with the day each came, where known; entries in journal order; the rest as plain JSON.

    ``how_often`` is what was said of feeding and watering. All from ``settings`` on but that is written for
    reading and moving on, and not taken in again: ``keeper`` is who it is and where they are reached,
    ``taken_back`` entries that were undone or replaced, ``photos`` the front end's references and files,
    ``more`` other parts by their names, which are written behind all these.
    """

    specimens: tuple[tuple[Specimen, date | None], ...]
    entries: tuple[Entry, ...]
    settings: Mapping[str, Any]
    how_often: HowOften = NOT_SAID
    reminders: Sequence[Mapping[str, Any]] = ()
    holds: Sequence[Mapping[str, Any]] = ()
    keeper: Mapping[str, Any] = field(default_factory=dict)
    taken_back: tuple[Entry, ...] = ()
    photos: Sequence[Mapping[str, Any]] = ()
    more: Mapping[str, Any] = field(default_factory=dict)


def to_json(shelf: WholeShelf) -> str:
    """The file's text."""
    whole = {
        "format": FORMAT,
        "version": VERSION,
        "keeper": dict(shelf.keeper),
        "settings": dict(shelf.settings),
        "specimens": [_card(specimen, on) for specimen, on in shelf.specimens],
        "journal": [entry.to_json() for entry in shelf.entries],
        "how_often": list(rows_of(shelf.how_often)),
        "reminders": list(map(dict, shelf.reminders)),
        "holds": list(map(dict, shelf.holds)),
        "taken_back": [entry.to_json() for entry in shelf.taken_back],
        "photos": list(map(dict, shelf.photos)),
    }
    whole |= {name: part for name, part in shelf.more.items() if name not in whole}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def _card(specimen: Specimen, on: date | None) -> dict[str, Any]:
    came = {"added_on": on.isoformat()} if on else {}
    return specimen_to_json(specimen) | came


def from_json(text: str) -> WholeShelf:
    """The shelf of a file's text. Raises :class:`NotAShelfError`."""
    try:
        whole = json.loads(text)
    except (ValueError, RecursionError) as problem:
        raise NotAShelfError(f"is not JSON: {problem}") from problem
    if not isinstance(whole, dict) or whole.get("format") != FORMAT:
        raise NotAShelfError(f'is no shelf; it must begin with "format": "{FORMAT}"')
    if whole.get("version") != VERSION:
        raise NotAShelfError(f"is of version {whole.get('version')!r}; this program reads version {VERSION}")
    return WholeShelf(
        specimens=tuple(_specimen(n, row) for n, row in enumerate(_rows(whole, "specimens"), start=1)),
        entries=tuple(_entry(n, row) for n, row in enumerate(_rows(whole, "journal"), start=1)),
        settings=_object(whole, "settings"),
        how_often=_how_often(whole),
        reminders=tuple(_rows(whole, "reminders")),
        holds=tuple(_rows(whole, "holds")),
        keeper=_object(whole, "keeper"),
        taken_back=tuple(_entry(n, row) for n, row in enumerate(_rows(whole, "taken_back"), start=1)),
        photos=tuple(_rows(whole, "photos")),
        more={name: part for name, part in whole.items() if name not in _PARTS},
    )


def _object(whole: Mapping[str, Any], part: str) -> dict[str, Any]:
    found = {} if whole.get(part) is None else whole[part]
    if not isinstance(found, dict):
        raise NotAShelfError(f"{part} must be an object")
    return found


def _rows(whole: Mapping[str, Any], part: str) -> list[dict[str, Any]]:
    rows = [] if whole.get(part) is None else whole[part]
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise NotAShelfError(f"{part} must be a list of objects")
    return rows


def _how_often(whole: Mapping[str, Any]) -> HowOften:
    try:
        return from_rows(_rows(whole, "how_often"))
    except NotAShelfError:
        raise
    except ValueError as problem:
        raise NotAShelfError(str(problem)) from problem


def _specimen(number: int, row: Mapping[str, Any]) -> tuple[Specimen, date | None]:
    card = dict(row)
    came = card.pop("added_on", None)
    try:
        return specimen_from_json(card, f"specimens {number}"), date.fromisoformat(came) if came else None
    except (ShelfFileError, TypeError, ValueError) as problem:
        raise NotAShelfError(f"specimens {number}: {problem}") from problem


def _entry(number: int, row: Mapping[str, Any]) -> Entry:
    try:
        return Entry.from_json(row)
    except (KeyError, TypeError, ValueError, ArithmeticError) as problem:
        raise NotAShelfError(f"journal {number}: {problem}") from problem
