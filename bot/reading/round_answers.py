"""An answer to the round, in words: "all done except B3", "all took", "only water today", "later". Pure.

It is read against the round, not the shelf: "all" are the round's animals, and a bare number is the
tag of one of them that ends so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from bot.reading.phrasings import bare, compiled, data


class Said(StrEnum):
    """What is said of the round. ``FED_ALL`` ("everyone ate") may as well be said of the whole shelf."""

    DONE = "done"
    TOOK = "took"
    FED_ALL = "fed_all"
    WATERED = "watered"
    REFUSED = "refused"
    LATER = "later"
    SKIP = "skip"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundAnswer:
    """``out`` is who is excepted, ``only`` the place or animals alone meant, each in the keeper's words."""

    said: Said
    out: tuple[str, ...] = ()
    only: tuple[str, ...] = ()


def read_round_answer(text: str) -> RoundAnswer | None:
    """What a message says of the round as a whole, or ``None``. Never raises."""
    if text.rstrip().endswith("?"):
        return None
    words = bare(text)
    for said, pattern in _patterns():
        found = pattern.fullmatch(words)
        if found is not None:
            slots = found.groupdict()
            return RoundAnswer(said=said, out=_parts(slots.get("out")), only=_parts(slots.get("only")))
    return None


@cache
def _patterns() -> tuple[tuple[Said, re.Pattern[str]], ...]:
    answers = data()["round_answers"]
    return tuple((Said(said), compiled(phrase)) for said, phrases in answers.items() for phrase in phrases)


def _parts(listed: str | None) -> tuple[str, ...]:
    if not listed:
        return ()
    return tuple(
        part.strip()
        for part in re.split(r"\s*(?:,|&|\+|(?<!\w)and(?!\w))\s*", listed, flags=re.I)
        if part.strip()
    )
