"""What a label warns of: hairs and venom, as a mark with words. General practice."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import cos, pi, sin
from typing import Final

from bot.husbandry.species import Species, species_of
from bot.pictures.paper.page import BLACK, MM_PER_POINT, Paper
from bot.pictures.words import has, say
from bot.terms import Specimen

BADGE: Final = 1.5
"""Height of a badge as a multiple of its type's size."""

_LEAST: Final = 4.5
_WHITE: Final = 255
_GRAVE: Final = frozenset({"high", "unknown"})


class Hazard(StrEnum):
    """What there is to be careful of. Its mark is a shape of its own, so that it needs no colour."""

    VENOM = "venom"
    HAIRS = "hairs"


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard and how much of it, as the species file has it, or how sure it is."""

    hazard: Hazard
    level: str

    @property
    def words(self) -> str:
        """It in two or three words."""
        return say(_key(self.hazard, self.level))

    @property
    def grave(self) -> bool:
        """Whether it stands white on black."""
        return self.hazard is Hazard.VENOM and self.level in _GRAVE


def _key(hazard: Hazard, level: str) -> str:
    return f"caution.{hazard.value}.{level}"


def cautions_of(specimen: Specimen) -> tuple[Caution, ...]:
    """The cautions for an animal by its species, the gravest first; what is not known counts as grave."""
    return species_cautions(species_of(specimen.species, specimen.habit))


def species_cautions(species: Species) -> tuple[Caution, ...]:
    """The cautions of a species: venom at once, then hairs."""
    found = []
    venom = species.venom_caution.value
    if has(_key(Hazard.VENOM, venom)):
        found.append(Caution(Hazard.VENOM, venom))
    if species.urticating is not False:
        found.append(Caution(Hazard.HAIRS, "certain" if species.urticating else "unknown"))
    return tuple(found)


def draw_caution(
    paper: Paper, caution: Caution, left: float, top: float, *, room: float, size: float
) -> float:
    """A badge with mark and words, no wider than ``room``. Gives the y below it."""
    while (width := _badge_width(paper, caution.words, size)) > room and size > _LEAST:
        size = max(_LEAST, size - 0.25)
    width, height = min(width, room), size * MM_PER_POINT * BADGE
    mark, pad = height * 0.72, height * 0.16
    ink, ground = (_WHITE, BLACK) if caution.grave else (BLACK, _WHITE)
    paper.box(left, top, width, height, fill=ground, line=0.25, radius=height * 0.18)
    _draw_mark(paper, caution.hazard, (left + pad + mark / 2, top + height / 2), mark, (ink, ground))
    baseline = top + height / 2 + size * MM_PER_POINT * 0.36
    space = width - mark - 2.5 * pad
    paper.write(left + mark + 2 * pad, baseline, caution.words, size=size, bold=True, grey=ink, room=space)
    return top + height


def _badge_width(paper: Paper, words: str, size: float) -> float:
    return size * MM_PER_POINT * BADGE * (0.72 + 3.5 * 0.16) + paper.width_of(words, size=size, bold=True)


def _draw_mark(
    paper: Paper, hazard: Hazard, middle: tuple[float, float], size: float, colors: tuple[int, int]
) -> None:
    (x, y), (ink, ground) = middle, colors
    half = size / 2
    if hazard is Hazard.VENOM:
        paper.shape([(x, y - half), (x + half * 1.1, y + half), (x - half * 1.1, y + half)], fill=ink)
        stroke = size * 0.07
        paper.shape(_bar(x, y - half * 0.35, y + half * 0.4, stroke), fill=ground)
        paper.shape(_bar(x, y + half * 0.58, y + half * 0.82, stroke), fill=ground)
        return
    spikes = 16
    radii = [half if n % 2 == 0 else half * 0.42 for n in range(spikes)]
    paper.shape(
        [(x + r * cos(2 * pi * n / spikes), y + r * sin(2 * pi * n / spikes)) for n, r in enumerate(radii)],
        fill=ink,
    )


def _bar(x: float, top: float, bottom: float, half: float) -> list[tuple[float, float]]:
    return [(x - half, top), (x + half, top), (x + half, bottom), (x - half, bottom)]
