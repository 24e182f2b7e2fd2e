"""Signs that a keeper's note tells of, in an animal or its home. Pure, from the note alone; no diagnosis."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache
from typing import Final

from bot.terms.data_file import data_of

_NO_WORDS: Final = re.compile(r"[^\w']+")


class Sign(StrEnum):
    """What a note tells of, the gravest first."""

    BLEEDING = "bleeding"
    STUCK = "stuck"
    MITES = "mites"
    UNWELL = "unwell"
    LIMB = "limb"
    FALL = "fall"
    MOLD = "mold"


#: Signs of the home, or of what may be nothing: advised on, and not kept beside what else is told.
_IN_PASSING: Final = frozenset({Sign.FALL, Sign.MOLD})
#: Signs that are no word that the animal is not well.
_NOT_ILL: Final = _IN_PASSING | {Sign.LIMB}


def sign_noted(note: str | None) -> Sign | None:
    """The sign that a note tells of; none where it also tells that all is well, or the leg grown back."""
    text = f" {_NO_WORDS.sub(' ', (note or '').casefold().replace('’', chr(39))).strip()} "
    well, regrown, signs = _words()
    told = (sign for sign, said in signs.items() if _says(text, said))
    return next((sign for sign in told if not _says(text, regrown if sign is Sign.LIMB else well)), None)


def to_be_kept(words: str | None) -> bool:
    """Whether words tell of what no entry but a note holds: that an animal is not well, or lost a leg."""
    sign = sign_noted(words)
    return sign is not None and sign not in _IN_PASSING


def ailing_noted(note: str | None) -> bool:
    """Whether a note tells of an animal that is not well, and none that it is better."""
    sign = sign_noted(note)
    return sign is not None and sign not in _NOT_ILL


def _says(text: str, any_of: frozenset[str]) -> bool:
    return any(f" {words} " in text for words in any_of)


@lru_cache(maxsize=1)
def _words() -> tuple[frozenset[str], frozenset[str], dict[Sign, frozenset[str]]]:
    found = data_of(__package__ or "bot.husbandry", "ailment_words.yaml")
    signs = {sign: frozenset(found["signs"][sign.value]) for sign in Sign}
    return frozenset(found["well"]), frozenset(found["regrown"]), signs
