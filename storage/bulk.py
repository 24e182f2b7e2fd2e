"""Whole shelves at once: for the demo shelf, the import, and measuring."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import insert

from bot.terms import Entry, Specimen
from storage import tables as t
from storage.keys import key_of
from storage.rows import as_stored, entry_row
from storage.work import Work

_INSERT = insert(t.entry)


def fill(
    work: Work,
    shelf_id: int,
    keeper_id: int,
    specimens: Sequence[Specimen],
    entries: Sequence[Entry],
    *,
    at: datetime,
    zone: str,
    added_on: Mapping[str, date] | None = None,
    origin: str | None = None,
) -> int:
    """Puts specimens and entries onto a shelf as one change, whose number it gives.

    Entries may be of specimens that are on the shelf already. ``added_on`` tells by tag on which day
    a specimen came; where it says nothing, that is the day of its first entry, or else today in
    ``zone``. The states are worked out once, at the end. Raises what
    :meth:`~storage.shelves.Shelves.add` and :meth:`~storage.journal.Journal.log` raise.
    """
    change_id = work.journal.change(shelf_id, keeper_id, at=at, origin=origin)
    kept = [as_stored(entry) for entry in entries]
    came = _first_days(kept) | {key_of(tag): day for tag, day in (added_on or {}).items()}
    today = at.astimezone(ZoneInfo(zone)).date()
    work.shelves.add_all(change_id, specimens, on=[came.get(key_of(s.tag), today) for s in specimens])
    numbers = work.shelves.numbers(shelf_id, {tag for entry in kept for tag in entry.specimens})
    rows: list[dict[str, Any]] = [
        entry_row(entry, zone=zone, change_id=change_id, shelf_id=shelf_id, specimen_id=number)
        for entry in kept
        for number in (dict.fromkeys(numbers[key_of(tag)] for tag in entry.specimens) or (None,))
    ]
    if rows:
        work.connection.execute(_INSERT, rows)
    work.shelves.work_out(numbers.values())
    return change_id


def _first_days(entries: Sequence[Entry]) -> dict[str, date]:
    """The day of each tag's first entry, by the tag's key."""
    first: dict[str, date] = {}
    for entry in entries:
        for tag in entry.specimens:
            key = key_of(tag)
            first[key] = min(first.get(key, entry.day), entry.day)
    return first
