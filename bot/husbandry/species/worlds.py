"""Of which world a genus is, as keepers tell them apart: the Americas are the new one, all else the old one.

From ``worlds.tsv``, each row with where the genus lives and what that rests on.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from enum import StrEnum
from functools import lru_cache
from importlib import resources


class World(StrEnum):
    """The Americas, or everywhere else."""

    OLD = "old"
    NEW = "new"


def world_of(species: str) -> World | None:
    """The world of a species' genus, by its scientific name; ``None`` where the table has it not."""
    genus = species.split(" ", maxsplit=1)[0].capitalize()
    return worlds().get(genus)


@lru_cache(maxsize=1)
def worlds() -> Mapping[str, World]:
    """The world of each genus. Raises ``ValueError`` for a word that is no world, or a genus told twice."""
    text = resources.files(__package__).joinpath("worlds.tsv").read_text(encoding="utf-8")
    found: dict[str, World] = {}
    for row in csv.DictReader(text.splitlines(), delimiter="\t", quoting=csv.QUOTE_NONE, strict=True):
        if row["genus"] in found:
            raise ValueError(f"worlds.tsv has {row['genus']} twice")
        found[row["genus"]] = World(row["world"])
    return found
