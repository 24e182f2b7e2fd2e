"""Whether an animal is out of its enclosure, by a keeper's note. Pure, told from the note alone."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import Final

from bot.terms.data_file import data_of


class Absence(StrEnum):
    """What a note tells of where an animal is."""

    MISSING = "missing"
    FOUND = "found"


_CLAUSE_ENDS: Final = re.compile(r"[,;.!?()\n]+|\s-\s|\sand\s|\sbut\s")


def absence_noted(note: str | None) -> Absence | None:
    """What a note tells last: that the animal is out and missing, or found again; ``None`` for neither."""
    text = (note or "").casefold().replace("’", "'").replace(":", " ")
    told = [said for clause in _CLAUSE_ENDS.split(text) if (said := _told_by(clause)) is not None]
    return told[-1] if told else None


def _told_by(clause: str) -> Absence | None:
    known, said = _words(), clause.split()
    if any(not known[other].isdisjoint(said) for other in ("denies", "feeders", "of_else")):
        return None
    text = f" {' '.join(said)} "
    for absence in (Absence.FOUND, Absence.MISSING):
        if any(words in text for words in known[absence.value]):
            return absence
    return None


@lru_cache(maxsize=1)
def _words() -> dict[str, frozenset[str]]:
    found = data_of(__package__ or "bot.husbandry", "absence_words.yaml")
    homes = [f"{whose} {home}" for whose in found["whose"] for home in found["homes"]]
    told = {
        absence.value: frozenset(
            f" {text.replace('{home}', home)} "
            for text in found[absence.value]
            for home in _homes_of(text, homes)
        )
        for absence in Absence
    }
    return {what: frozenset(words) for what, words in found.items()} | told


def _homes_of(text: str, homes: list[str]) -> list[str]:
    return homes if "{home}" in text else [""]
