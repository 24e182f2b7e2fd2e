"""Feeder animals: how long and heavy each is at its trade size, and how fast it grows out of it.

From ``prey.tsv``, each row with what it rests on; masses scatter by ±40 % and more.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from bot.terms import PreySize


@dataclass(frozen=True, slots=True)
class Prey:
    """A feeder of one size: length in mm, mass in mg, and days until it is of the next size.

    ``days_at_size`` is ``None`` for what grows no more in a feeder box, or only turns into a beetle or moth.
    """

    kind: str
    size: PreySize
    length_mm: float
    mass_mg: float
    days_at_size: int | None
    basis: str


@lru_cache(maxsize=1)
def all_prey() -> tuple[Prey, ...]:
    """Every row of the file, of each kind the small ones first. Raises ``ValueError`` on a broken file."""
    text = resources.files(__package__).joinpath("prey.tsv").read_text(encoding="utf-8")
    return tuple(
        Prey(
            kind=row["prey"],
            size=PreySize(row["size"]),
            length_mm=float(row["length_mm"]),
            mass_mg=float(row["mass_mg"]),
            days_at_size=int(row["days_at_size"]) if row["days_at_size"] else None,
            basis=row["basis"],
        )
        for row in csv.DictReader(text.splitlines(), delimiter="\t", strict=True)
    )


@lru_cache(maxsize=64)
def sizes_of(kind: str) -> tuple[Prey, ...]:
    """The sizes of a kind, small ones first; empty where the file does not know it."""
    return tuple(prey for prey in all_prey() if prey.kind == kind)


@lru_cache(maxsize=1)
def kinds_of_prey() -> tuple[str, ...]:
    """The kinds that the file knows, in its order."""
    return tuple(dict.fromkeys(prey.kind for prey in all_prey()))


def is_of_kind(kind: str, asked: str) -> bool:
    """Whether a feeder is of the kind asked about: a dubia roach is a roach."""
    return kind == asked or kind.endswith(f" {asked}")


@lru_cache(maxsize=256)
def prey_of(kind: str, size: PreySize | str | None) -> Prey | None:
    """A feeder by kind and size; where a kind comes in one size only, any word for the size is that."""
    sizes = sizes_of(kind)
    if len(sizes) == 1:
        return sizes[0]
    return next((prey for prey in sizes if prey.size == size), None)
