"""Phrasings as data: what a whole message may be, with slots for the keeper's own words. Pure.

``(a|b)`` may be missing, ``[a|b]`` is one of them, ``{slot}`` stands for the keeper's own words; the
rest has to be said as it stands. Case does not matter. Kept in ``lexicon/<language>/instructions.yaml``;
what a language does not have is as in English, whose words every keeper may use.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Final, TypeVar

from bot.reading.normalise import plain_text
from bot.terms.data_file import data_of

_PIECE: Final = re.compile(r"\{(\w+)\}|\[([^\]]*)\]|\(([^)]*)\)|([^\s\[\](){}]+)")

#: Marks that may stand at the ends of a message.
_MARKS: Final = " .!?,¡¿"
_Made = TypeVar("_Made")

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
    "ask_who": "words_for_who",
    "trait": "traits",
    "most": "mosts",
    "oftened": "oftened_words",
    "kinds_of": "kinds_words",
    "age": "origin_words",
    "event": "events",
    "opening": "openings",
    "unkept": "unkept_words",
    "took": "took_words",
    "again": "round_again",
    "speak": "speak_up",
    "posture": "postures",
    "sign": "signs_feared",
    "alarm": "alarms",
    "sac": "sac_events",
    "priced": "priced_words",
    "regular": "summed_words",
    "did": "happenings",
    "also": "happenings",
    "lacking": "lacks",
    "rule": "rule_words",
    "how_to": "how_tos",
    "topic": "help_topics",
    "latest": "latest_logged",
}


#: The language whose words every keeper may use.
SHARED: Final = "en"


@cache
def own_data(language: str) -> Mapping[str, Any]:
    """The phrasings and words of one language alone."""
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, "instructions.yaml")
    return found


@cache
def data(language: str = SHARED) -> Mapping[str, Any]:
    """The phrasings and words that keepers of a language use: its own, and those that all share."""
    shared = own_data(SHARED)
    return shared if language == SHARED else joined(own_data(language), shared)


def joined(own: Any, shared: Any) -> Any:
    """Two tables or lists of one shape as one, the language's own words first; a single value is the own."""
    if isinstance(shared, Mapping):
        here = {key: joined(value, shared[key]) if key in shared else value for key, value in own.items()}
        return {**shared, **here}
    return [*own, *shared] if isinstance(shared, list) else own


def of_language(language: str, made: Callable[[str], tuple[_Made, ...]]) -> tuple[_Made, ...]:
    """What is made of a language's own phrasings, and behind it what is made of those that all share."""
    return made(language) if language == SHARED else (*made(language), *made(SHARED))


def compiled(
    phrase: str, slots: Mapping[str, Sequence[str]] | None = None, language: str = SHARED
) -> re.Pattern[str]:
    """A phrasing, ready to be matched with a whole message. ``slots``: those that take certain words only."""
    if slots is None:
        slots = {slot: synonyms(key, language) for slot, key in _OF_CERTAIN_WORDS.items()}
    parts = []
    for slot, needed, optional, word in _PIECE.findall(phrase):
        if slot in slots:
            parts.append(f"(?P<{slot}>{either(slots[slot])})")
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


def synonyms(key: str, language: str = SHARED) -> list[str]:
    """All words of a table of synonyms, the longest first."""
    said = data(language)[key].values()
    return sorted((str(word) for words in said for word in words), key=len, reverse=True)


@cache
def meaning(key: str, language: str = SHARED) -> Mapping[str, str]:
    """Each word of a table of synonyms, folded, and what it stands for."""
    return {folded(str(word)): value for value, words in data(language)[key].items() for word in words}


@cache
def word_set(key: str, language: str = SHARED) -> frozenset[str]:
    """A list of words, folded."""
    return frozenset(folded(str(word)) for word in data(language)[key])


def folded(words: str) -> str:
    """Words as they are compared."""
    return plain_text(words).folded.strip()


def bare(text: str, *, polite: bool = True, language: str = SHARED) -> str:
    """The message without ornaments, closing marks and, if ``polite``, words of courtesy at its ends."""
    words = " ".join(plain_text(text).plain.split()).strip(_MARKS)
    before = None
    while polite and before != words:
        before = words
        words = _ends(language).sub("", words).strip(_MARKS)
    return words


@cache
def _ends(language: str) -> re.Pattern[str]:
    polite = "|".join(map(re.escape, data(language)["polite"]))
    greetings = "|".join(map(re.escape, data(language)["greetings"]))
    return re.compile(rf"^(?:{polite}|{greetings})\b[\s,]+|[\s,]+(?:{polite})$", re.I)
