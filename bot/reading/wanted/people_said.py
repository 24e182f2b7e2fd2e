"""Others who log on a shelf: what they did is asked for, and what they are called is told. Pure."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from bot.reading.words.phrasings import OWNS, SHARED, Phrasings, all_alike, bare, fitting, own_data


class DoneBy(NamedTuple):
    """Who is asked about, in the keeper's words, and the words for when; empty where none were said."""

    person: str
    when: str


def read_done_by(text: str, language: str = SHARED) -> list[DoneBy]:
    """Whose entries a message asks for, each way in which the words can be cut. Never raises."""
    words = bare(text, language=language)
    said = [found.groupdict() for _, found in fitting(words, language, _done_by)]
    return [DoneBy(OWNS.sub("", slots["person"]), slots.get("when") or "") for slots in said]


def read_person_called(text: str, language: str = SHARED) -> tuple[str, str] | None:
    """ "My sister is called Anna": who was called so far, and the name; ``None`` for anything else."""
    if text.rstrip().endswith("?"):
        return None
    words = bare(text, language=language)
    return next(
        (
            (OWNS.sub("", said["person"]), said["name"])
            for _, said in fitting(words, language, _person_called)
        ),
        None,
    )


@cache
def _done_by(language: str) -> Phrasings[None]:
    return all_alike(own_data(language).get("done_by", ()), {})


@cache
def _person_called(language: str) -> Phrasings[None]:
    return all_alike(own_data(language).get("person_called", ()), {})
