"""Phrasings as data: what a whole message may be, with slots for the keeper's own words. Pure.

``(a|b)`` may be missing, ``[a|b]`` is one of them, ``{slot}`` stands for the keeper's own words; the
rest has to be said as it stands. Case does not matter. Kept in ``lexicon/en/instructions.yaml``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Final

from bot.reading.normalise import plain_text
from bot.terms.data_file import data_of

_PIECE: Final = re.compile(r"\{(\w+)\}|\[([^\]]*)\]|\(([^)]*)\)|([^\s\[\](){}]+)")

#: What stands behind a name for whose something is.
OWNS: Final = re.compile(r"(?:'s|’s|(?<=s)')$")
#: The slots that take certain words only, each with the table of its words.
_OF_CERTAIN_WORDS: Final = {
    "stage": "stages",
    "work": "works",
    "done": "works_asked",
    "doing": "works_doing",
    "dish": "dishes",
    "world": "worlds",
    "sexed": "sexed_words",
    "tenure": "tenures",
    "resting": "rests",
    "again": "round_again",
    "speak": "speak_up",
}


@cache
def data() -> Mapping[str, Any]:
    """The file of phrasings and words."""
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", "en", "instructions.yaml")
    return found


def compiled(phrase: str, slots: Mapping[str, Sequence[str]] | None = None) -> re.Pattern[str]:
    """A phrasing, ready to be matched with a whole message. ``slots``: those that take certain words only."""
    chosen = {slot: synonyms(key) for slot, key in _OF_CERTAIN_WORDS.items()} if slots is None else slots
    parts = []
    for slot, needed, optional, word in _PIECE.findall(phrase):
        if slot in chosen:
            parts.append(f"(?P<{slot}>{either(chosen[slot])})")
        elif slot:
            parts.append(rf"(?P<{slot}>(?<!\w)\S(?:.*?\S)?(?!\w))")
        elif needed:
            parts.append(f"(?:{either(needed.split('|'))})")
        elif optional:
            parts.append(f"(?:{either(optional.split('|'))})?")
        else:
            parts.append(f"(?:{either([word])})")
    return re.compile(r"\s*".join(parts), re.I)


def slot(found: re.Match[str], name: str) -> str | None:
    """The keeper's own words in a slot; ``None`` where the phrasing has it not, or it is empty."""
    return found.groupdict().get(name)


def openings(phrase: str, slots: Mapping[str, Sequence[str]]) -> Iterator[str]:
    """The words that a phrasing without slots of the keeper's own can begin with."""
    for slot, needed, optional, word in _PIECE.findall(phrase):
        yield from slots[slot] if slot else (needed or optional or word).split("|")
        if not optional:
            return


def needed(phrase: str, slots: Mapping[str, Sequence[str]]) -> Iterator[Sequence[str]]:
    """For each piece of a phrasing that may not be missing the words and phrases that it may be.

    A piece that may be a sign is left out: signs are no words.
    """
    for slot, needs, optional, word in _PIECE.findall(phrase):
        said = slots[slot] if slot else (needs or word).split("|")
        if not optional and all(words[:1].isalnum() for words in said):
            yield said


def either(words: Sequence[str]) -> str:
    """A pattern for any of the words or phrases, none of them as a part of a longer word."""
    return "|".join(map(_bounded, words))


def _bounded(word: str) -> str:
    before = r"(?<!\w)" if word[:1].isalnum() else ""
    after = r"(?!\w)" if word[-1:].isalnum() else ""
    return before + r"\s+".join(map(re.escape, word.split())) + after


def synonyms(key: str) -> list[str]:
    """All words of a table of synonyms, the longest first."""
    return sorted((str(word) for words in data()[key].values() for word in words), key=len, reverse=True)


@cache
def meaning(key: str) -> Mapping[str, str]:
    """Each word of a table of synonyms, folded, and what it stands for."""
    return {folded(str(word)): value for value, words in data()[key].items() for word in words}


@cache
def word_set(key: str) -> frozenset[str]:
    """A list of words, folded."""
    return frozenset(folded(str(word)) for word in data()[key])


def folded(words: str) -> str:
    """Words as they are compared."""
    return plain_text(words).folded.strip()


def bare(text: str, *, polite: bool = True) -> str:
    """The message without ornaments, closing marks and, if ``polite``, words of courtesy at its ends."""
    words = " ".join(plain_text(text).plain.split()).strip(" .!?,")
    before = None
    while polite and before != words:
        before = words
        words = _ends().sub("", words).strip(" .!?,")
    return words


@cache
def _ends() -> re.Pattern[str]:
    polite = "|".join(map(re.escape, data()["polite"]))
    greetings = "|".join(map(re.escape, data()["greetings"]))
    return re.compile(rf"^(?:{polite}|{greetings})\b[\s,]+|[\s,]+(?:{polite})$", re.I)
