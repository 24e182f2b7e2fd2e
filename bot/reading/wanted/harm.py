"""Whether a message says that a person or a pet was hurt: bitten, or with hairs in eye or skin. Pure.

The phrases are data, in ``lexicon/<language>/harm.yaml``; English ones are looked for whatever the keeper's
language, as somebody hurt may write in either. It is no diagnosis, and it stands beside whatever
else the message says: missing one is worse than showing first aid once too often.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any, Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import bare, compiled, folded
from bot.reading.words.tokens import tokens_of
from bot.terms.data_file import data_of

_WORD: Final = re.compile(r"[^\W\d_]+")
_KEPT_ANIMAL: Final = "tarantula"
_SHORT: Final = 7
"""Up to so many words a message may go on from what was told before."""
_FEW_WORDS: Final = r"\s*(?:[^.?;\n]{0,40}?(?<!\w))\s*"
_WORDS_BEFORE: Final = 2
"""How many words before a phrase may turn it round: "never really bit me"."""


def tells_of_harm(text: str, names: ShelfNames, language: str = "en") -> bool:
    """Whether a person or a pet may have been hurt. Never raises."""
    said = frozenset(_WORD.findall(folded(text)))
    return any(_tells(of, text, said, names) for of in _looked_for(language))


def _tells(language: str, text: str, said: frozenset[str], names: ShelfNames) -> bool:
    if _words("tells", language).isdisjoint(said):
        return False
    words = folded(bare(_with_animals_masked(text, names), polite=False))
    alone = " ".join(_WORD.findall(words))
    if any(pattern.fullmatch(alone) for pattern in _patterns("whole", language)):
        return True
    if any(pattern.match(words) for pattern in _patterns("from_the_start", language)):
        return True
    return any(
        not _turned_round(words[: found.start()], language)
        for pattern in _patterns("anywhere", language)
        for found in pattern.finditer(words)
    )


def matter_of_harm(text: str, language: str = "en") -> str | None:
    """What of first aid a message is about: "pet", "eye", "bite" or "skin"."""
    words = f" {' '.join(_WORD.findall(folded(text)))} "
    matters = (matter for of in _looked_for(language) for matter in _data(of)["matters"].items())
    return next((matter for matter, said in matters if any(f" {one} " in words for one in said)), None)


def goes_on_of_harm(text: str, names: ShelfNames, language: str = "en") -> bool:
    """Whether a short message goes on from a harm that was told just before: "ouch, it burns".

    One that names an animal of the shelf tells of that animal.
    """
    if _with_animals_masked(text, names) != plain_text(text).plain:
        return False
    words = _WORD.findall(folded(text))
    felt = frozenset[str]().union(*(_words("goes_on", of) for of in _looked_for(language)))
    return len(words) <= _SHORT and not felt.isdisjoint(words)


def _turned_round(before: str, language: str) -> bool:
    return bool(_words("unless_after", language).intersection(before.split()[-_WORDS_BEFORE:]))


def _with_animals_masked(text: str, names: ShelfNames) -> str:
    """The message with each animal of the shelf as a plain "tarantula": one called Puppy is no pet."""
    plain = plain_text(text)
    tokens = tokens_of(plain)
    said = plain.plain
    for span in sorted(names.find(tokens), key=lambda span: span.i, reverse=True):
        if any(hit.how != "place" for hit in span.hits):
            start, end = tokens[span.i].start, tokens[span.j - 1].end
            said = said[:start] + _KEPT_ANIMAL + said[end:]
    return said


def _looked_for(language: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys((language, "en")))


@cache
def _data(language: str) -> Mapping[str, Any]:
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, "harm.yaml")
    return found


@cache
def _words(key: str, language: str) -> frozenset[str]:
    return frozenset(map(folded, _data(language)[key]))


@cache
def _patterns(where: str, language: str) -> tuple[re.Pattern[str], ...]:
    lists = {name: f"[{'|'.join(words)}]" for name, words in _data(language)["lists"].items()}
    return tuple(_ready(phrase.format_map(lists)) for phrase in _data(language)[where])


def _ready(phrase: str) -> re.Pattern[str]:
    """A phrase with what "…" stands for: a few words of the same sentence."""
    return re.compile(_FEW_WORDS.join(compiled(part).pattern for part in phrase.split("…")), re.I)
