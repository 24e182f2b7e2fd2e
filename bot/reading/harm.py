"""Whether a message says that a person or a pet was hurt: bitten, or with hairs in eye or skin. Pure.

The phrases are data, in ``lexicon/en/harm.yaml``. It is no diagnosis, and it stands beside whatever
else the message says: missing one is worse than showing first aid once too often.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any, Final

from bot.reading.names import ShelfNames
from bot.reading.normalise import plain_text
from bot.reading.phrasings import bare, compiled, folded
from bot.reading.tokens import tokens_of
from bot.terms.data_file import data_of

_WORD: Final = re.compile(r"[^\W\d_]+")
_KEPT_ANIMAL: Final = "tarantula"
_SHORT: Final = 7
"""Up to so many words a message may go on from what was told before."""
_WORDS_BEFORE: Final = 2
"""How many words before a phrase may turn it round: "never really bit me"."""


def tells_of_harm(text: str, names: ShelfNames) -> bool:
    """Whether a person or a pet may have been hurt. Never raises."""
    if _tells().isdisjoint(_WORD.findall(folded(text))):
        return False
    words = folded(bare(_with_animals_masked(text, names), polite=False))
    if any(pattern.fullmatch(words) for pattern in _patterns("whole")):
        return True
    if any(pattern.match(words) for pattern in _patterns("from_the_start")):
        return True
    return any(
        not _turned_round(words[: found.start()])
        for pattern in _patterns("anywhere")
        for found in pattern.finditer(words)
    )


def matter_of_harm(text: str) -> str | None:
    """What of first aid a message is about: "pet", "eye", "bite" or "skin"."""
    words = f" {' '.join(_WORD.findall(folded(text)))} "
    return next(
        (matter for matter, said in _data()["matters"].items() if any(f" {one} " in words for one in said)),
        None,
    )


def goes_on_of_harm(text: str, names: ShelfNames) -> bool:
    """Whether a short message goes on from a harm that was told just before: "ouch, it burns".

    One that names an animal of the shelf tells of that animal.
    """
    if _with_animals_masked(text, names) != plain_text(text).plain:
        return False
    words = _WORD.findall(folded(text))
    return len(words) <= _SHORT and not set(words).isdisjoint(_data()["goes_on"])


def _turned_round(before: str) -> bool:
    return bool(_unless().intersection(before.split()[-_WORDS_BEFORE:]))


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


@cache
def _data() -> Mapping[str, Any]:
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", "en", "harm.yaml")
    return found


@cache
def _tells() -> frozenset[str]:
    return frozenset(map(folded, _data()["tells"]))


@cache
def _unless() -> frozenset[str]:
    return frozenset(map(folded, _data()["unless_after"]))


@cache
def _patterns(where: str) -> tuple[re.Pattern[str], ...]:
    lists = {name: f"[{'|'.join(words)}]" for name, words in _data()["lists"].items()}
    return tuple(compiled(phrase.format_map(lists)) for phrase in _data()[where])
