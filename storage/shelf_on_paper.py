"""A shelf for writing down: every specimen, living or gone, under a tag of its own, and all entries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from bot.husbandry.as_of import StagesSaid, as_of_each, stage_on
from bot.husbandry.state import SpecimenState
from bot.terms import Entry, Specimen
from bot.terms.as_of import AsOf
from storage.keys import key_of
from storage.records import Owned, StoredSpecimen
from storage.starts import stages_said, starts_of
from storage.work import Work

if TYPE_CHECKING:
    from bot.husbandry.journal import SpecimenRecord


@dataclass(frozen=True, slots=True)
class ShelfOnPaper:
    """All specimens of a shelf, living or gone, each with the day on which it came, and their entries in the
    order of days; ``starts`` are their states on coming, ``stages`` what was said of their stages since when,
    ``taken_back`` the entries undone or replaced. The cards are of today, but for the size of a lot, which is
    what it came with."""

    specimens: tuple[tuple[Specimen, date], ...]
    starts: tuple[SpecimenState, ...]
    stages: tuple[StagesSaid, ...]
    entries: tuple[Entry, ...]
    taken_back: tuple[Entry, ...]

    def records(self) -> list[SpecimenRecord]:
        """Each specimen with its own entries and what the room was like."""
        from bot.husbandry.records import shelf_records  # noqa: PLC0415  numpy costs; most look at entries

        cards = [specimen for specimen, _ in self.specimens]
        return shelf_records(list(zip(cards, self.starts, strict=True)), self.entries)

    def as_they_came(self) -> tuple[tuple[Specimen, date], ...]:
        """Each specimen with the day on which it came, and its card with what it came as.

        Sex, stage, span and the size of a lot are of that day: what became of them is in the entries.
        """
        return tuple(
            (_as_it_came(card, start), on)
            for (card, on), start in zip(self.specimens, self.starts, strict=True)
        )

    def arrivals(self) -> list[tuple[Specimen, date, AsOf]]:
        """Each specimen with the day on which it came, and what it was then."""
        return [
            (card, on, AsOf(sex=start.sex, stage=stage_on(card, start, said, on), count=start.lot_size))
            for (card, on), start, said in zip(self.specimens, self.starts, self.stages, strict=True)
        ]

    def occurrences(self) -> list[tuple[Entry, AsOf | None]]:
        """Each entry with what its specimen was then; those of no specimen with nothing."""
        by_tag: dict[str, list[Entry]] = {card.tag: [] for card, _ in self.specimens}
        for entry in self.entries:
            for tag in entry.specimens:
                by_tag.setdefault(tag, []).append(entry)
        stood = {
            card.tag: as_of_each(card, start, said, by_tag[card.tag])
            for (card, _), start, said in zip(self.specimens, self.starts, self.stages, strict=True)
        }
        return [
            (entry, next(stood[entry.specimens[0]]) if stood.keys() & entry.specimens else None)
            for entry in self.entries
        ]


def read_shelf(work: Work, shelf_id: int) -> ShelfOnPaper:
    """The shelf for writing down: with each tag standing for one specimen, also where tags were reused."""
    everyone = sorted(
        (*work.shelves.specimens(shelf_id, gone=True), *work.shelves.specimens(shelf_id)),
        key=lambda stored: (stored.position, stored.id),
    )
    tags = _tags(everyone)
    numbers = [stored.id for stored in everyone]
    starts, stages = starts_of(work.connection, numbers), stages_said(work.connection, numbers)
    return ShelfOnPaper(
        tuple(
            (_on_paper(stored, tags[stored.id], starts[stored.id]), stored.added_on) for stored in everyone
        ),
        tuple(starts[number] for number in numbers),
        tuple(stages[number] for number in numbers),
        tuple(_of_tag(owned, tags) for owned in work.journal.by_owner(shelf_id)),
        tuple(_of_tag(owned, tags) for owned in work.journal.taken_back(shelf_id)),
    )


def _tags(everyone: list[StoredSpecimen]) -> dict[int, str]:
    """Each specimen's tag; a gone one whose tag is used again gets its number behind it."""
    tags: dict[int, str] = {}
    taken: set[str] = set()
    for stored in sorted(everyone, key=lambda stored: stored.gone_on is not None):
        tag = stored.specimen.tag
        if key_of(tag) in taken:
            tag = f"{tag}-gone-{stored.id}"
        taken.add(key_of(tag))
        tags[stored.id] = tag
    return tags


def _on_paper(stored: StoredSpecimen, tag: str, start: SpecimenState) -> Specimen:
    return replace(stored.specimen, tag=tag, lot_size=start.lot_size)


def _as_it_came(card: Specimen, start: SpecimenState) -> Specimen:
    return replace(card, sex=start.sex, stage=start.stage or card.stage, span_cm=start.span_cm)


def _of_tag(owned: Owned, tags: Mapping[int, str]) -> Entry:
    number, entry = owned
    if number is None or number not in tags:  # of the shelf as a whole, or of one whose adding was undone
        return entry
    tag = (tags[number],)
    return entry if entry.specimens == tag else replace(entry, specimens=tag)
