"""Others who log on a shelf: what they did is asked for, and what they are called is told. Pure."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from bot.reading.phrasings import OWNS, SHARED, bare, compiled, of_language, own_data


class DoneBy(NamedTuple):
    """Who is asked about, in the keeper's words, and the words for when; empty where none were said."""

    person: str
    when: str


def read_done_by(text: str, language: str = SHARED) -> list[DoneBy]:
    """Whose entries a message asks for, each way in which the words can be cut. Never raises."""
    words = bare(text, language=language)
    found = (pattern.fullmatch(words) for pattern in of_language(language, _done_by))
    said = [match.groupdict() for match in found if match is not None]
    return [DoneBy(OWNS.sub("", slots["person"]), slots.get("when") or "") for slots in said]


def read_person_called(text: str, language: str = SHARED) -> tuple[str, str] | None:
    """ "My sister is called Anna": who was called so far, and the name; ``None`` for anything else."""
    if text.rstrip().endswith("?"):
        return None
    words = bare(text, language=language)
    found = (pattern.fullmatch(words) for pattern in of_language(language, _person_called))
    match = next((match for match in found if match is not None), None)
    return (OWNS.sub("", match["person"]), match["name"]) if match is not None else None


@cache
def _done_by(language: str) -> tuple[re.Pattern[str], ...]:
    return tuple(compiled(phrase, {}) for phrase in own_data(language).get("done_by", ()))


@cache
def _person_called(language: str) -> tuple[re.Pattern[str], ...]:
    return tuple(compiled(phrase, {}) for phrase in own_data(language).get("person_called", ()))
