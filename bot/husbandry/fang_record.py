"""Whether the fangs were seen to be black and hard after a molt, by the words of a note. Pure."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from bot.terms.data_file import data_of

_CLAUSE_ENDS: Final = re.compile(r"[,;.!?()\n]+|\s-\s")


def fangs_noted(note: str | None) -> bool | None:
    """``True`` where a note tells that the fangs are black, ``False`` where they are not yet, else ``None``.

    Where it could be both they are not: a day longer without food harms nothing, soft fangs break.
    """
    text = (note or "").casefold().replace("’", "'").replace(":", " ")
    found = {told for clause in _CLAUSE_ENDS.split(text) if (told := _told_by(clause.split())) is not None}
    return all(found) if found else None


def _told_by(words: list[str]) -> bool | None:
    known, said = _words(), set(words)
    if known["unsure"] & said:
        return None
    soft, black = bool(known["soft"] & said), bool(known["black"] & said)
    if not known["fangs"] & said:
        return False if known["body"] & said and known["still"] & said else None
    if not soft and not black:
        return None
    if known["nearly"] & said:
        return None if soft and not black else False  # "not red any more" is no black
    return not soft


@lru_cache(maxsize=1)
def _words() -> dict[str, frozenset[str]]:
    found = data_of(__package__ or "bot.husbandry", "fang_words.yaml")
    return {what: frozenset(words) for what, words in found.items()}
