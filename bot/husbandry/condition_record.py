"""How the abdomen was found, by the words of a keeper's note. Pure, and told from the note alone."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import Final

from bot.terms.data_file import data_of


class Condition(StrEnum):
    """How much an animal has to live on, by its abdomen."""

    THIN = "thin"
    USUAL = "usual"
    PLUMP = "plump"
    FAT = "fat"


_CLAUSE_ENDS: Final = re.compile(r"[,;.!?()\n]+|\s-\s")
#: A longer clause tells of more than one thing.
_MOST_WORDS: Final = 9
#: "Ink skinny": a name and a word.
_NAME_AND_WORD: Final = 2


def condition_noted(note: str | None) -> Condition | None:
    """The condition that a note tells; ``None`` where it tells none, denies one, or tells two."""
    text = (note or "").casefold().replace("’", "'").replace(":", " ")
    found = {told for clause in _CLAUSE_ENDS.split(text) if (told := _told_by(clause.split())) is not None}
    return found.pop() if len(found) == 1 else None


def _told_by(words: list[str]) -> Condition | None:
    if not words or len(words) > _MOST_WORDS:
        return None
    known = _words()
    if known["denies"] & set(words):
        return None
    text = f" {' '.join(words)} "
    if any(f" {usual} " in text for usual in known["usual"]):
        return Condition.USUAL
    found = {told for at in range(len(words)) if (told := _told_at(words, at)) is not None}
    return found.pop() if len(found) == 1 else None


def _told_at(words: list[str], at: int) -> Condition | None:
    """What one word tells, where those around it show that it is said of the animal and is no name."""
    known, word = _words(), words[at]
    before, after = words[:at], words[at + 1 :]
    very = bool(before) and before[-1] in known["very"]
    of_abdomen = bool(after) and after[0] in known["abdomen"]
    alone = not before or (len(words) == _NAME_AND_WORD and not after)
    said = of_abdomen or very or (before and before[-1] in known["before"]) or (alone and not after)
    if not said or not set(after) <= known["after"]:
        return None
    if word in known["stout"]:
        return Condition.FAT if very else Condition.PLUMP
    return next((told for told in _BY_WORD if word in known[told.value]), None)


_BY_WORD: Final = (Condition.THIN, Condition.PLUMP, Condition.FAT)


@lru_cache(maxsize=1)
def _words() -> dict[str, frozenset[str]]:
    found = data_of(__package__ or "bot.husbandry", "condition_words.yaml")
    return {what: frozenset(words) for what, words in found.items()}
