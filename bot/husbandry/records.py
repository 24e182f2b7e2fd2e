"""A whole shelf's records, from its specimens and its journal."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.molts.history import felt_at
from bot.husbandry.state import SpecimenState
from bot.terms import Entry, Kind, Specimen


def shelf_records(
    specimens: Sequence[tuple[Specimen, SpecimenState]], entries: Iterable[Entry]
) -> list[SpecimenRecord]:
    """The record of each specimen, in shelf order, with the room's warmth among its own entries.

    Each specimen comes with what was so before its first entry (``start.start_of``). ``entries`` are live
    ones in journal order, each of one specimen or of none.
    """
    by_tag: dict[str, list[Entry]] = defaultdict(list)
    room: list[Entry] = []
    for entry in entries:
        if entry.specimens:
            by_tag[entry.specimens[0]].append(entry)
        elif entry.kind is Kind.CLIMATE:
            room.append(entry)
    felt = {place: felt_at(place, room) for place in {one.place for one, _ in specimens}}
    return [SpecimenRecord.of(one, [*by_tag[one.tag], *felt[one.place]], start) for one, start in specimens]
