"""Which species a keeper's words mean: scientific, shortened (``B. hamorii``), or a trade name. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.husbandry.species import all_species, species_named
from bot.reading.names.taxa import taxa
from bot.terms import Specimen
from bot.terms.scientific_names import spellings

_SHORTENED: Final = re.compile(r"([A-Za-z])\.?\s*([a-z][a-z-]{2,})")
_UNIDENTIFIED: Final = re.compile(
    r"(?:(?:an? )?(?:unidentified|undescribed|unknown) (?P<named>[a-z]+)(?: species)?"
    r"|(?P<genus>[a-z]+) (?:sp|spp|spec|species)\b\.?(?: (?P<where>.+))?)",
    re.I,
)
_TWO_WORDS: Final = re.compile(r"[A-Z][a-z]+ (?:[a-z][a-z-]{2,}|sp\.?(?: .+)?)")


def species_meant(words: str, shelf: Sequence[Specimen] = ()) -> list[str]:
    """The scientific names that the words may mean, by the species file and by what stands on the shelf."""
    said = " ".join(words.split()).strip(" .,")
    found = [species.scientific_name for species in species_named(said)]
    found += [animal.species for animal in shelf if _bears(animal, said)]
    found = found or taxa().called(said)
    shortened = _SHORTENED.fullmatch(said)
    if not found and shortened:
        initial, epithet = shortened[1].upper(), shortened[2]
        found = [
            name
            for name in _names(shelf)
            if name.startswith(initial) and {*name.split()[1:2]} & {*spellings(epithet)}
        ]
    if not found and said.casefold().endswith("s"):  # "6 OBTs"
        found = species_meant(said[:-1], shelf)
    return list(dict.fromkeys(found)) or _of_genus(said, shelf)


def _of_genus(said: str, shelf: Sequence[Specimen]) -> list[str]:
    """An animal of which the genus alone is known: "aphonopelma sp", "unidentified Aphonopelma".

    A genus by itself may be that, or any species of it.
    """
    found = _UNIDENTIFIED.fullmatch(said)
    genus = (found["genus"] or found["named"]).capitalize() if found else said.capitalize()
    kin = [name for name in dict.fromkeys(_names(shelf)) if name.split()[0] == genus]
    if not kin and genus.casefold() not in taxa().genera:
        return []
    if found is None:
        return [f"{genus} sp.", *kin]
    where = f" {found['where'].strip()}" if found["where"] else ""
    return [f"{genus} sp.{where}"]


def _names(shelf: Sequence[Specimen]) -> list[str]:
    return [species.scientific_name for species in all_species()] + [animal.species for animal in shelf]


def _bears(animal: Specimen, said: str) -> bool:
    return said.casefold() in {name.casefold() for name in (animal.species, *animal.common)}


def is_scientific(words: str) -> bool:
    """Whether words are built like a scientific name: ``Genus epithet``, ``Genus sp. place``."""
    return _TWO_WORDS.fullmatch(" ".join(words.split())) is not None


def name_and_species(
    parts: Sequence[str], shelf: Sequence[Specimen]
) -> tuple[str | None, list[str], list[str]]:
    """The name among the words said of a newcomer, the species that they may mean, and the words left over.

    A part that is a species is the species; of a part whose last words are one, the rest is the name.
    """
    name: str | None = None
    species: list[str] = []
    left: list[str] = []
    for part in parts:
        rest, found = _split_off(part, shelf) if not species else (part, [])
        species = species or found
        if rest and name is None:
            name = rest
        elif rest:
            left.append(rest)
    return name, species, left


def _split_off(part: str, shelf: Sequence[Specimen]) -> tuple[str, list[str]]:
    """A part's words before the species that it ends with, and that species."""
    words = part.split()
    for start in range(len(words)):
        tail = " ".join(words[start:])
        found = species_meant(tail, shelf) or ([tail] if is_scientific(tail) else [])
        if found:
            return " ".join(words[:start]), found
    return part, []
