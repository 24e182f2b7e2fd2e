"""Phrasings as data: what a whole message may be, with slots for the keeper's own words. Pure.

``(a|b)`` may be missing, ``[a|b]`` is one of them, ``{slot}`` stands for the keeper's own words; the
rest has to be said as it stands. Case does not matter. Kept in ``lexicon/<language>/instructions.yaml``;
what a language does not have is as in English, whose words every keeper may use.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from typing import Any, Final, Generic, TypeVar

from bot.reading.words.normalise import plain_text
from bot.terms.data_file import data_of
from bot.terms.language import LANGUAGES

_PIECE: Final = re.compile(r"\{(\w+)\}|\[([^\]]*)\]|\(([^)]*)\)|([^\s\[\](){}]+)")

#: Marks that may stand at the ends of a message.
_MARKS: Final = " .!?,¡¿"
_WORD: Final = re.compile(r"\w+")
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
    "neglected": "neglected_words",
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
#: The languages in which every noun is written with a capital, so that one is no sign of a name.
NOUNS_IN_CAPITALS: Final = frozenset({"de"})


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


class Phrasings(Generic[_Made]):
    """Phrasings in their order, each with what it stands for. ``slots`` as in :func:`compiled`.

    There are hundreds, and a message fits one at most: those alone are tried of which it has a word that may
    not be missing, the one of each phrasing that fewest others have. A pattern is made when first tried.
    """

    def __init__(
        self,
        rows: Iterable[tuple[_Made, str]],
        slots: Mapping[str, Sequence[str]] | None = None,
        language: str = SHARED,
    ) -> None:
        self._slots = known = _certain_words(language) if slots is None else slots
        self._rows = list(rows)
        self._patterns: dict[int, re.Pattern[str]] = {}  # of those tried so far
        self._always: list[int] = []
        self._by_word: dict[str, list[int]] = {}
        pieces = [[_marked_by(said) for said in needed(phrase, known)] for _, phrase in self._rows]
        often = Counter(word for of_one in pieces for words in of_one for word in words)
        for place, of_one in enumerate(pieces):
            if not of_one:
                self._always.append(place)
                continue
            for word in min(of_one, key=lambda words: sum(often[word] for word in words)):
                self._by_word.setdefault(word, []).append(place)

    def fitting(self, words: str) -> Iterator[tuple[_Made, re.Match[str]]]:
        """Those that a whole message fits, in their order, each with the match."""
        places = {place for word in self._by_word.keys() & _words_of(words) for place in self._by_word[word]}
        for place in sorted(places.union(self._always)):
            made, phrase = self._rows[place]
            pattern = self._patterns.get(place)
            if pattern is None:
                pattern = self._patterns[place] = compiled(phrase, self._slots)
            if (found := pattern.fullmatch(words)) is not None:
                yield made, found


def all_alike(
    phrases: Iterable[str], slots: Mapping[str, Sequence[str]] | None = None, language: str = SHARED
) -> Phrasings[None]:
    """Phrasings that all stand for the same."""
    return Phrasings(((None, phrase) for phrase in phrases), slots, language)


def fitting(
    words: str, language: str, made: Callable[[str], Phrasings[_Made]]
) -> Iterator[tuple[_Made, re.Match[str]]]:
    """The phrasings of a language's own that a message fits, and behind them those that all share."""
    for of in (language,) if language == SHARED else (language, SHARED):
        yield from made(of).fitting(words)


@lru_cache(maxsize=64)  # each sort of phrasing asks for those of the same message
def _words_of(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.lower()))


def _marked_by(said: Sequence[str]) -> frozenset[str]:
    """For each word or phrase its longest word, which a message that says it has."""
    return frozenset(max(_WORD.findall(words.lower()), key=len) for words in said)


def compiled(
    phrase: str, slots: Mapping[str, Sequence[str]] | None = None, language: str = SHARED
) -> re.Pattern[str]:
    """A phrasing, ready to be matched with a whole message. ``slots``: those that take certain words only."""
    if slots is None:
        slots = _certain_words(language)
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


@cache
def _certain_words(language: str) -> Mapping[str, Sequence[str]]:
    return {slot: synonyms(key, language) for slot, key in _OF_CERTAIN_WORDS.items()}


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

    A piece that may be a sign is left out: signs are no words. So is a slot for the keeper's own words.
    """
    for slot, needs, optional, word in _PIECE.findall(phrase):
        if slot and slot not in slots:
            continue
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


@cache
def words_of_all(key: str) -> frozenset[str]:
    """A list of words in every language."""
    return frozenset().union(*(word_set(key, language) for language in LANGUAGES))


def folded(words: str) -> str:
    """Words as they are compared."""
    return plain_text(words).folded.strip()


@lru_cache(maxsize=64)  # each sort of phrasing asks for the same message
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
