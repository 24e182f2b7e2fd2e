"""The living animals of a shelf with their own journals, for what looks back over it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from bot.husbandry.state import SpecimenState
from bot.terms import Entry, Specimen
from storage.starts import starts_of
from storage.work import Work

if TYPE_CHECKING:
    from bot.husbandry.journal import SpecimenRecord


@dataclass(frozen=True, slots=True)
class LivingShelf:
    """The living animals in the order of the shelf, each with what it came as; their entries and those of no
    animal, oldest first. What an animal that is gone was told of under the same tag is not among them."""

    specimens: tuple[tuple[Specimen, SpecimenState], ...]
    entries: tuple[Entry, ...]

    def records(self) -> list[SpecimenRecord]:
        """Each animal with its own entries and what the room was like."""
        from bot.husbandry.records import shelf_records  # noqa: PLC0415  numpy costs; most look at entries

        return shelf_records(self.specimens, self.entries)


def read_living(
    work: Work, shelf_id: int, *, tags: Collection[str] | None = None, until: date | None = None
) -> LivingShelf:
    """The living of a shelf with their entries to the end of a day; of some tags only, without the room's.

    Raises :class:`NotOnShelfError` for a tag that the shelf has never had.
    """
    living = {
        stored.id: stored.specimen
        for stored in work.shelves.specimens(shelf_id)
        if tags is None or stored.specimen.tag in tags
    }
    owned = work.journal.by_owner(shelf_id, tags=tags, until=until)
    starts = starts_of(work.connection, living)
    return LivingShelf(
        tuple((specimen, starts[number]) for number, specimen in living.items()),
        tuple(entry for number, entry in owned if number is None or number in living),
    )
