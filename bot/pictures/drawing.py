"""One door to all charts: what is wanted and the shelf's records go in, pictures come out.

Import late: matplotlib comes with it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Final

from bot.pictures import gather
from bot.pictures.charts import (
    acceptance_chart,
    climate_charts,
    intervals_chart,
    life_chart,
    meals_chart,
    moisture_chart,
    shelf_charts,
    weight_chart,
)
from bot.pictures.data import NextMolt, PictureKind
from bot.pictures.frame import Picture
from bot.pictures.theme import Look
from bot.pictures.words import say
from bot.round.model import SpecimenFacts
from bot.terms import Entry, Specimen
from bot.terms.language import speaking


class NothingToShowError(ValueError):
    """There is nothing on record that the picture could show; the text says what is missing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfRecords:
    """A shelf on a day: who stands there, every entry up to that day, and the next molts by tag."""

    on: date
    facts: Sequence[SpecimenFacts]
    entries: Sequence[Entry]
    next_molts: Mapping[str, NextMolt] = field(default_factory=dict)

    @property
    def specimens(self) -> list[Specimen]:
        """The animals, in the order of the shelf."""
        return [one.specimen for one in self.facts]

    @property
    def first(self) -> date:
        """The day of the first entry; the day itself where there is none."""
        return min((entry.day for entry in self.entries), default=self.on)


def draw(
    kind: PictureKind,
    shelf: ShelfRecords,
    look: Look,
    *,
    animal: Specimen | None = None,
    species: str | None = None,
) -> list[Picture]:
    """The pictures of that kind: several where a shelf is long.

    ``animal`` or ``species`` narrow it down where the kind can be of one. Raises
    :class:`NothingToShowError` where there is nothing on record, or nobody was named who has to be.
    """
    with speaking(look.settings.language):
        try:
            pictures = _DRAW[kind](_Wanted(shelf, look, animal, species))
        except ValueError as problem:
            raise NothingToShowError(str(problem)) from problem
        if not pictures:
            raise NothingToShowError(say("nothing.on_record"))
        return pictures


@dataclass(frozen=True, slots=True)
class _Wanted:
    shelf: ShelfRecords
    look: Look
    animal: Specimen | None
    species: str | None

    @property
    def one(self) -> Specimen:
        """The animal that was named."""
        if self.animal is None:
            raise NothingToShowError(say("nothing.which_animal"))
        return self.animal

    @property
    def group(self) -> list[Specimen]:
        """Whom it is about: the animal named, all of the species named, or all."""
        if self.animal is not None:
            return [self.animal]
        return [one for one in self.shelf.specimens if self.species in (None, one.species)]

    @property
    def who(self) -> str:
        """The group in words."""
        if self.animal is not None:
            return self.animal.called
        return self.species or say("nothing.whole_shelf")


def _life(wanted: _Wanted) -> list[Picture]:
    ahead = wanted.shelf.next_molts.get(wanted.one.tag)
    life = gather.life_of(wanted.one, wanted.shelf.entries, wanted.shelf.on, ahead)
    return [life_chart(life, wanted.look)]


def _shelf(wanted: _Wanted) -> list[Picture]:
    shelf = wanted.shelf
    return shelf_charts(gather.glance_of(shelf.facts, shelf.on, shelf.next_molts), wanted.look)


def _meals(wanted: _Wanted) -> list[Picture]:
    shelf = wanted.shelf
    tags = {one.tag for one in wanted.group}
    entries = [entry for entry in shelf.entries if tags.intersection(entry.specimens)]
    if not any(entry.kind in gather.MEAL_KINDS for entry in entries):
        raise NothingToShowError(say("nothing.no_meals", who=wanted.who))
    return [meals_chart(gather.meals_of(wanted.who, entries, shelf.first, shelf.on), wanted.look)]


def _molts(wanted: _Wanted) -> list[Picture]:
    species = wanted.species or (wanted.animal.species if wanted.animal else None)
    if species is None:
        raise NothingToShowError(say("nothing.which_species"))
    found = gather.intervals_of(species, wanted.shelf.specimens, wanted.shelf.entries)
    return [intervals_chart(found, wanted.look)]


def _acceptance(wanted: _Wanted) -> list[Picture]:
    found = gather.acceptance_of(wanted.who, wanted.group, wanted.shelf.entries)
    return [acceptance_chart(found, wanted.look)]


def _climate(wanted: _Wanted) -> list[Picture]:
    shelf = wanted.shelf
    read = [entry.day for entry in shelf.entries if entry.temp_c is not None]
    found = gather.climate_of(wanted.group, shelf.entries, min(read, default=shelf.on), shelf.on)
    return climate_charts(found, wanted.look)


def _weight(wanted: _Wanted) -> list[Picture]:
    found = gather.weights_of(wanted.one, wanted.shelf.entries, wanted.shelf.on)
    return [weight_chart(found, wanted.look)]


def _moisture(wanted: _Wanted) -> list[Picture]:
    tag = wanted.one.tag
    facts = next((one for one in wanted.shelf.facts if one.specimen.tag == tag), None)
    if facts is None:
        raise NothingToShowError(say("nothing.on_record"))
    found = gather.moistures_of(facts, wanted.shelf.entries, wanted.shelf.on)
    return [moisture_chart(found, wanted.look)]


_DRAW: Final[Mapping[PictureKind, Callable[[_Wanted], list[Picture]]]] = MappingProxyType(
    {
        PictureKind.LIFE: _life,
        PictureKind.SHELF: _shelf,
        PictureKind.MEALS: _meals,
        PictureKind.MOLTS: _molts,
        PictureKind.ACCEPTANCE: _acceptance,
        PictureKind.CLIMATE: _climate,
        PictureKind.WEIGHT: _weight,
        PictureKind.MOISTURE: _moisture,
    }
)
