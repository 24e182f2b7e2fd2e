"""How warm and how moist an animal is to be kept, beside what was last read where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.species import Species, species_of
from bot.reading.wanted.wanted import Instruction
from bot.terms import Entry, Kind, Specimen

_MOST_SPECIES: Final = 4


def warmth(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The range of each species asked about with its basis, and how the latest readings stand to it."""
    animals = asked_about(turn, wanted)
    named = [wanted.species] if wanted.species else [animal.species for animal in animals]
    readings = _readings(turn)
    lines: list[str] = []
    for name in list(dict.fromkeys(named))[:_MOST_SPECIES]:
        kept = [animal for animal in animals or turn.shelf.specimens if animal.species == name]
        species = species_of(name, kept[0].habit) if kept else species_of(name)
        lines.append(_range(turn, name, species))
        lines += [_reading(turn, place, readings, species) for place in dict.fromkeys(_places(kept))]
        lines.append(say("species.basis", basis=_of_care(species.basis)))
    return [fit(turn, "\n".join(filter(None, lines)))]


def _of_care(basis: str) -> str:
    """What of a basis is of the care: "care and sizes: common practice, no source"."""
    return next((part for part in basis.split("; ") if part.startswith("care")), basis)


def _places(animals: list[Specimen]) -> list[str]:
    return [animal.place for animal in animals if animal.place]


def _range(turn: Turn, name: str, species: Species) -> str:
    coldest, warmest = (_degrees(turn, Decimal(c)) for c in (species.temp_min_c, species.temp_max_c))
    moisture = say_of("moistures", species.moisture.value)
    return say("warmth.range", species=name, coldest=coldest, warmest=warmest, moisture=moisture)


def _degrees(turn: Turn, celsius: Decimal) -> str:
    return wording.temperature(celsius, turn.settings.units)


def _reading(turn: Turn, place: str, readings: Sequence[Entry], species: Species) -> str:
    """The latest temperature of a place, or of the room, and whether it lies within the range."""
    entry = _latest(readings, place)
    if entry is None or entry.temp_c is None:
        return say("warmth.no_reading", place=wording.capital(place))
    verdict = (
        "cold"
        if entry.temp_c < species.temp_min_c
        else "warm"
        if entry.temp_c > species.temp_max_c
        else "fits"
    )
    where = wording.capital(entry.place) if entry.place else say("climate.room")
    day = wording.day_and_ago(entry.day, turn.today)
    return say_of("warmth.reading", verdict, where=where, now=_degrees(turn, entry.temp_c), day=day)


def _readings(turn: Turn) -> list[Entry]:
    """The temperatures that were read of a place or of the room, newest first."""
    rows = turn.work.journal.entries(turn.shelf_id, kinds=(Kind.CLIMATE,))
    return [row.entry for row in rows if row.entry.temp_c is not None and not row.entry.specimens]


def _latest(readings: Sequence[Entry], place: str) -> Entry | None:
    own = (entry for entry in readings if entry.place and entry.place.casefold() == place.casefold())
    return next(own, next((entry for entry in readings if not entry.place), None))
