"""What is known of each species, from ``species.tsv``, each row with its basis.

``species_of`` never fails: a species that the file does not have gets what its genus has in common,
or a general profile of its habit, and says so in its ``basis``.
"""

from __future__ import annotations

import csv
from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from functools import lru_cache
from importlib import resources
from types import MappingProxyType
from typing import Final

from bot.terms import Habit, Sex
from bot.terms.scientific_names import respelled


class Moisture(StrEnum):
    """How the substrate is kept; not a relative humidity."""

    DRY = "dry"
    PART_MOIST = "part-moist"
    MOIST = "moist"


class Pace(StrEnum):
    """How fast a species grows and molts, for its size."""

    FAST = "fast"
    MEDIUM = "medium"
    SLOW = "slow"


class VenomCaution(StrEnum):
    """How much a bite calls for care; ``unknown`` is to be treated like ``high``."""

    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """A species' care profile. Temperatures in °C are a room's, spans are typical adults' in cm.

    ``urticating`` is ``None`` where it is not known. ``known`` is false for a profile made up from
    the genus or the habit. ``basis`` tells what the figures rest on.
    """

    scientific_name: str
    author_year: str = ""
    common_names: tuple[str, ...] = ()
    synonyms: tuple[str, ...] = ()
    habit: Habit
    moisture: Moisture
    temp_min_c: int
    temp_max_c: int
    female_span_cm: Decimal
    male_span_cm: Decimal
    pace: Pace
    urticating: bool | None
    venom_caution: VenomCaution
    cites: str
    basis: str
    known: bool = True

    def adult_span_cm(self, sex: Sex = Sex.UNKNOWN) -> Decimal:
        """The typical adult span for a sex; the female's where the sex is not known."""
        return self.male_span_cm if sex is Sex.MALE else self.female_span_cm


_GENERAL: Final = Species(
    scientific_name="",
    habit=Habit.TERRESTRIAL,
    moisture=Moisture.PART_MOIST,
    temp_min_c=20,
    temp_max_c=28,
    female_span_cm=Decimal(14),
    male_span_cm=Decimal(13),
    pace=Pace.MEDIUM,
    urticating=None,
    venom_caution=VenomCaution.UNKNOWN,
    cites="not checked",
    basis="general rule: common practice, no source",
    known=False,
)

#: What an animal of an unknown species is taken for, by its habit: common practice, no source.
GENERAL_OF: Final = MappingProxyType(
    {
        Habit.TERRESTRIAL: _GENERAL,
        Habit.FOSSORIAL: replace(_GENERAL, habit=Habit.FOSSORIAL),
        Habit.ARBOREAL: replace(_GENERAL, habit=Habit.ARBOREAL, temp_min_c=22),
    }
)


@lru_cache(maxsize=1)
def all_species() -> tuple[Species, ...]:
    """Every species of the file, in its order. Raises ``ValueError`` or ``KeyError`` on a broken file."""
    text = resources.files(__package__).joinpath("species.tsv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines(), delimiter="\t", quoting=csv.QUOTE_NONE, strict=True)
    return tuple(_species_from(row) for row in rows)


def species_named(words: str) -> tuple[Species, ...]:
    """Every species that bears this name: scientific, former or trade name; case does not matter."""
    return _by_name().get(_key(words), ())


@lru_cache(maxsize=4096)
def species_of(name: str, habit: Habit | None = None) -> Species:
    """The profile for a species' name, and where two or none bear it, one made up as the module tells.

    ``habit`` is the keeper's word for the animal; it serves only where the file does not know better.
    """
    found = species_named(name)
    if len(found) == 1:
        return found[0]
    return replace(_of_genus(name) or GENERAL_OF[habit or Habit.TERRESTRIAL], scientific_name=name)


def _species_from(row: dict[str, str]) -> Species:
    return Species(
        scientific_name=row["scientific_name"],
        author_year=row["author_year"],
        common_names=_parts(row["common_names"]),
        synonyms=_parts(row["synonyms"]),
        habit=Habit(row["habit"]),
        moisture=Moisture(row["moisture"]),
        temp_min_c=int(row["temp_min_c"]),
        temp_max_c=int(row["temp_max_c"]),
        female_span_cm=Decimal(row["female_span_cm"]),
        male_span_cm=Decimal(row["male_span_cm"]),
        pace=Pace(row["pace"]),
        urticating={"yes": True, "no": False}[row["urticating"]],
        venom_caution=VenomCaution(row["venom_caution"]),
        cites=row["cites"],
        basis=row["basis"],
    )


def _parts(cell: str) -> tuple[str, ...]:
    return tuple(cell.split("|")) if cell else ()


def _key(words: str) -> str:
    return " ".join(words.casefold().split())


@lru_cache(maxsize=1)
def _by_name() -> dict[str, tuple[Species, ...]]:
    names: dict[str, tuple[Species, ...]] = {}
    for species in all_species():
        scientific = (form for n in (species.scientific_name, *species.synonyms) for form in respelled(n))
        for name in {_key(n) for n in (*scientific, *species.common_names)}:
            names[name] = (*names.get(name, ()), species)
    return names


def _of_genus(name: str) -> Species | None:
    """What most species of the genus have; the greatest caution of any of them; the middle span."""
    words = name.split()
    kin = [s for s in all_species() if words and s.scientific_name.split()[0] == words[0].capitalize()]
    if not kin:
        return None
    by_span = sorted(kin, key=lambda s: s.female_span_cm)
    middle = by_span[len(by_span) // 2]
    cautions = list(VenomCaution)
    return replace(
        middle,
        author_year="",
        common_names=(),
        synonyms=(),
        habit=Counter(s.habit for s in kin).most_common(1)[0][0],
        moisture=Counter(s.moisture for s in kin).most_common(1)[0][0],
        pace=Counter(s.pace for s in kin).most_common(1)[0][0],
        temp_min_c=max(s.temp_min_c for s in kin),
        temp_max_c=min(s.temp_max_c for s in kin),
        venom_caution=max((s.venom_caution for s in kin), key=cautions.index),
        basis=f"species file: other {words[0].capitalize()} ({len(kin)})",
        known=False,
    )
