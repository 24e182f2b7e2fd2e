"""That an animal is not well or lost a leg, told beside what else happened: "Rust molted, lost a leg"."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.husbandry.ailment_record import to_be_kept
from bot.reading.model import Reading
from bot.terms import Entry, Kind

#: Kinds after which nothing is to be looked after.
_OVER: Final = frozenset({Kind.DIED, Kind.LEFT})


def with_illness(reading: Reading) -> Reading:
    """The reading with a note of its words where they tell that its one animal is not well or lost a leg."""
    told_of = {entry.specimens for entry in reading.entries}
    kinds = {entry.kind for entry in reading.entries}
    if len(told_of) != 1 or Kind.NOTE in kinds or kinds & _OVER or not to_be_kept(reading.text):
        return reading
    (tags,) = told_of
    if len(tags) != 1:
        return reading
    day = max(entry.day for entry in reading.entries)
    note = Entry(kind=Kind.NOTE, day=day, specimens=tags, note=reading.text.strip())
    return replace(reading, entries=(*reading.entries, note))
