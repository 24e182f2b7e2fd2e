"""Whether a keeper's note tells that an animal is not well. Pure, told from the note alone; no diagnosis."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from bot.terms.data_file import data_of

_NO_WORDS: Final = re.compile(r"[^\w']+")


def ailing_noted(note: str | None) -> bool:
    """Whether a note tells of an animal that is not well, and none that it is better."""
    text = f" {_NO_WORDS.sub(' ', (note or '').casefold().replace('’', chr(39))).strip()} "
    known = _words()
    if any(f" {words} " in text for words in known["well"]):
        return False
    return any(f" {words} " in text for words in known["ailing"])


@lru_cache(maxsize=1)
def _words() -> dict[str, frozenset[str]]:
    found = data_of(__package__ or "bot.husbandry", "ailment_words.yaml")
    return {what: frozenset(words) for what, words in found.items()}
