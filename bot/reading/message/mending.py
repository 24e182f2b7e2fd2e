"""Slips of the thumb and vowels left out in the words of the trade: "moltd", "friut flies", "2 crkt".

A message is read with such a word mended only where neither lexicon, shelf nor language know the word,
and one word of the lexicon alone is near. Names are never mended here (see ``slips``): a word in capitals
within a sentence may be anybody's, and so may one where a name stands and the near word could not.
Languages without a list of their other words (``lexicon/LANGUAGE/no_slips.txt``) are not mended.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from typing import Final

from rapidfuzz.distance import OSA
from rapidfuzz.process import extract

from bot.reading.message.parse import Message
from bot.reading.message.spoken import adds, decimal_at, spoken
from bot.reading.message.spoken_tags import heard
from bot.reading.message.texted import in_short, texted
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.lexicon import Lexicon, Sense, lexicon
from bot.reading.words.rule_words import FILE as RULE_WORDS
from bot.reading.words.tokens import Token
from bot.reading.words.word_groups import CUES
from bot.terms import Kind

#: Letters of a word in which one slip is mended, and of one with two of them.
SHORTEST: Final = 5
LONG: Final = 8
#: Letters of a word that lacks one or has two changed about, and of one that lacks its vowels.
SHORTEST_LACKING: Final = 4
SHORTEST_BARE: Final = 3
#: What tells two words apart: their senses, else the word itself.
Meaning = frozenset[object] | str
_VOWELS: Final = re.compile("[aeiou]")
_TWICE: Final = re.compile(r"(.)\1")
_WORDS: Final = re.compile(r"[a-z]+")


@dataclass(frozen=True, slots=True)
class Mended:
    """A message's text with words mended, and each of them as it was written and as it is read."""

    text: str
    words: tuple[tuple[str, str], ...]

    def as_written(self, said: str | None) -> str | None:
        """Some words of the mended text, if any, as the keeper wrote them."""
        if said is None:
            return None
        for written, right in self.words:
            said = re.sub(rf"\b{re.escape(right)}\b", written, said)
        return said


def mended(message: Message) -> Mended | None:
    """The message with the slips in its words mended; ``None`` where there are none."""
    known = vocabulary(message.settings.language)
    changes = _as_heard(message) if known is None else _changes(message, known)
    text, words, at = [], [], 0
    plain = message.source.plain
    for start, end, right in changes:
        if start < at:
            continue
        text += [plain[at:start], right]
        words.append((plain[start:end], right))
        at = end
    return Mended("".join([*text, plain[at:]]), tuple(words)) if words else None


def _as_heard(message: Message) -> Iterator[tuple[int, int, str]]:
    """The same where slips are not mended: short forms, and decimals in words."""
    tokens, language = message.tokens, message.settings.language
    by_ear = spoken(language)
    for place, token in enumerate(tokens):
        if token.key in by_ear.point:
            found = decimal_at(tokens, place, language)
            if found is not None:
                start, end, written = found
                yield tokens[start].start, tokens[end - 1].end, written
        elif token.text in by_ear.words and not _may_be_named(message, place):
            yield token.start, token.end, by_ear.words[token.text]


def _may_be_named(message: Message, place: int) -> bool:
    """Whether a short form is a name of the shelf, or a letter of a place or tag: "Q1", "la Q"."""
    token = message.tokens[place]
    numbered = place + 1 < len(message.tokens) and message.tokens[place + 1].kind == "number"
    letter = len(token.text) == 1 and (token.upper or numbered)
    return letter or (token.text,) in message.names.phrases


def _changes(message: Message, known: Vocabulary) -> Iterator[tuple[int, int, str]]:
    """Where in the text something else is to be read, in order."""
    tokens, language = message.tokens, message.settings.language
    odd = [place for place, token in enumerate(tokens) if token.text not in known.plain]
    points = (place for place in odd if tokens[place].key in spoken(language).point)
    found = (decimal_at(tokens, place, language) for place in points)
    spans = [*heard(tokens, message.names, language), *(span for span in found if span is not None)]
    spans += texted(tokens, message.names, language)
    dictated = {span[0]: span for span in spans}
    for place in sorted({*odd, *dictated}):
        token = tokens[place]
        if place in dictated:
            _, end, written = dictated[place]
            start = token.start if written[0].isalnum() or not place else tokens[place - 1].end
            yield start, tokens[end - 1].end, written
            continue
        right = spoken(language).plus if adds(tokens, place) else _right(token, known, message, place)
        if right:
            yield token.start, token.end, right


def _right(token: Token, known: Vocabulary, message: Message, place: int) -> str | None:
    word = token.text
    said = spoken(message.settings.language).words.get(word)
    if said is not None and not _named_here(message, place):
        return said
    if token.kind != "word" or not SHORTEST_BARE <= len(word) <= known.longest or not word.isascii():
        return None
    if word in known.words or not word.isalpha() or _may_be_a_name(message, place):
        return None
    if word in message.names.all_words:
        return None
    drawn_out = in_short(word, lambda short: short in known.words or short in message.names.all_words)
    if drawn_out is not None:
        return drawn_out
    near = known.nearest(word)
    if near is None or _nearly_of_the_shelf(word, message.names):
        return None
    return None if _where_a_name_stands(message, place, near, known.meanings[near]) else near


def _named_here(message: Message, place: int) -> bool:
    """Whether a word is of a name that stands here: "AV#2", in which no "have" is heard."""
    return any(message.names_over(place))


def _may_be_a_name(message: Message, place: int) -> bool:
    """Whether a word has a capital that no beginning of a sentence gives it."""
    begins = place == 0 or message.ends_sentence(place - 1)
    return message.tokens[place].upper and not begins


def _where_a_name_stands(message: Message, place: int, near: str, meaning: Meaning) -> bool:
    """ "Conor gave me two slings", "fed morey a roach": an unknown name, which the near word is not."""
    cats = frozenset({""}) if isinstance(meaning, str) else {s[0] for s in meaning if isinstance(s, tuple)}
    if not cats <= _NEVER_IN_ITS_PLACE or near.endswith("ly"):
        return False  # "finaly" is nobody's name
    before, behind = (_senses_at(message, at) for at in (place - 1, place + 1))
    if any(
        sense.group.keeper and sense.group.kind in _DONE_TO_HER for sense in before if sense.cat == "verb"
    ):
        return True
    leads = any(sense.cat in {"to", "from", "with"} for sense in (*before, *_single_at(message, place - 1)))
    if leads and _changes_hands(message, place):
        return True  # "sold Ink to conor", "gone to her new home with conor"
    begins = place == 0 or message.ends_sentence(place - 1) or any(sense.cat == "and" for sense in before)
    titled = place + 1 < len(message.tokens) and message.tokens[place + 1].text == ":"
    acts = any(sense.cat in _BEHIND_A_NAME and not sense.group.noun for sense in behind)
    return begins and (titled or acts)


def _single_at(message: Message, at: int) -> tuple[Sense, ...]:
    """What the word at a token means though it ends a phrase: the "with" of "went to live with"."""
    return message.senses(at) if at >= 0 else ()


def _changes_hands(message: Message, place: int) -> bool:
    """Whether a word before a token tells that an animal comes or goes."""
    said = (sense for at, (_, senses) in message.phrases.items() if at < place for sense in senses)
    return any(sense.group.kind in {Kind.ACQUIRED, Kind.LEFT} for sense in said)


def _senses_at(message: Message, at: int) -> tuple[Sense, ...]:
    """What the phrase means that begins at a token, or the word there."""
    if not 0 <= at < len(message.tokens):
        return ()
    return message.phrases[at][1] if at in message.phrases else message.senses(at)


#: Sorts of words (none: words of phrases only) that stand in no place of a name.
_NEVER_IN_ITS_PLACE: Final = frozenset({"", "noun", "fill", "fix"})
#: What a keeper does to an animal that is named right behind.
_DONE_TO_HER: Final = frozenset({Kind.FED, Kind.OFFERED})
_BEHIND_A_NAME: Final = frozenset({"verb", "did", "and", "neg", "elided", "undone"})


def _nearly_of_the_shelf(word: str, names: ShelfNames) -> bool:
    """Whether a word is a slip away from one of the shelf's names."""
    return any(slips <= 1 for slips, _, _ in names.near_names(word))


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The words of a language: those that are nobody's slip, and those that others may be slips of.

    The ``plain`` ones are read as they stand, since they are no spoken form of another either. ``meanings``
    has what each of those means that others may be slips of; they are found by their first letter
    (``by_letter``), and by what is left of them without vowels (``bare``).
    """

    words: frozenset[str]
    plain: frozenset[str]
    meanings: Mapping[str, Meaning]
    by_letter: Mapping[str, tuple[str, ...]]
    bare: Mapping[str, tuple[str, ...]]
    longest: int

    def nearest(self, word: str) -> str | None:
        """The one word that is near, or the best of those that mean the same."""
        past = f"{word[:-1]}ed"
        if len(word) >= SHORTEST and word[-1] == "d" and word[-2] not in "aeiou" and past in self.meanings:
            return past  # "moultd" and "offerd" are not yet to come
        found = self._slips(word) or self._without_vowels(word)
        if not found or len({self.meanings[one] for one in found}) > 1:
            return None
        return min(found, key=lambda one: (OSA.distance(word, one), len(one), one))

    def _slips(self, word: str) -> list[str]:
        most = 0 if len(word) < SHORTEST_LACKING else 1 if len(word) < LONG else 2
        near = self.by_letter.get(word[0], ()) if most else ()
        apart = {
            one: n for one, n, _ in extract(word, near, scorer=OSA.distance, score_cutoff=most, limit=None)
        }
        found = [one for one, slips in apart.items() if slips == 1]
        if len(word) < SHORTEST:
            found = [one for one in found if len(one) > len(word) or sorted(one) == sorted(word)]
        return found or [one for one in apart if len(one) >= LONG]

    def _without_vowels(self, word: str) -> list[str]:
        """ "mltd", "crkt": none of the vowels, and of the other letters the first, the last, all but one."""
        if _VOWELS.search(word):
            return []
        bones = _bones(word)
        whole = list(self.bare.get(bones, ()))
        if whole:
            return [one for one in whole if one[0] == word[0] and one[-1] == word[-1]]
        near = {one for at in range(len(bones) + 1) for one in self._lacking(bones, at)}
        return [one for one in near if one[0] == word[0] and one[-1] == word[-1]]

    def _lacking(self, bones: str, at: int) -> Iterator[str]:
        for letter in "bcdfghjklmnpqrstvwxyz":
            yield from self.bare.get(bones[:at] + letter + bones[at:], ())


def _bones(word: str) -> str:
    """A word without its vowels, and without a letter twice: "cricket" is "crkt" but for its c."""
    return _TWICE.sub(r"\1", _VOWELS.sub("", word))


@lru_cache(maxsize=4)
def vocabulary(language: str) -> Vocabulary | None:
    """The words of a language, ``None`` where it has no list of the words that are no slips."""
    folder = resources.files("bot.reading") / "lexicon" / language
    file = folder / "no_slips.txt"
    if not file.is_file():
        return None
    words = lexicon(language)
    meanings = {word: _meaning(words, word) for word in sorted(_targets(words))}
    known = words_known(language) | frozenset(file.read_text("utf-8").split())
    by_ear = spoken(language)
    return Vocabulary(
        words=known,
        plain=known.difference(by_ear.words, by_ear.point),
        meanings=meanings,
        by_letter=_gathered(meanings, lambda word: word[0]),
        bare=_gathered(meanings, _bones),
        longest=max(map(len, meanings)) + 1,
    )


def _gathered(words: Iterable[str], by: Callable[[str], str]) -> Mapping[str, tuple[str, ...]]:
    """Words by something that they share."""
    found: dict[str, list[str]] = {}
    for word in words:
        found.setdefault(by(word), []).append(word)
    return {key: tuple(those) for key, those in found.items()}


def words_known(language: str) -> frozenset[str]:
    """Every word that the files of a language's lexicon have, and of the species.

    Words of single rules are left out: they stand there as they are typed, slips ("dident") among them.
    """
    folder = resources.files("bot.reading") / "lexicon" / language
    files = [file for file in folder.iterdir() if file.name.endswith(".yaml") and file.name != RULE_WORDS]
    said = {word for file in files for word in _WORDS.findall(file.read_text("utf-8").lower())}
    return frozenset(said.union(*taxa().phrases)) | taxa().genera


def _targets(words: Lexicon) -> set[str]:
    """The words that others may be slips of."""
    said = {
        key
        for layer in (words.account, words.cues, words.ideas)
        for keys, _ in layer.phrases()
        for key in keys
    }
    return {key for key in said if len(key) >= SHORTEST_LACKING and key.isalpha() and key.isascii()}


def _meaning(words: Lexicon, key: str) -> Meaning:
    """What a word means by itself; a word of phrases only means itself."""
    senses: tuple[Sense, ...] = words.account.senses(key)
    kinds = frozenset((s.cat, s.group.kind, s.group.prey, s.group.size) for s in senses if s.cat not in CUES)
    return _same(kinds) or key


@cache
def _same(meaning: frozenset[object]) -> frozenset[object]:
    """One set for all that mean the same, since the words of a language are kept."""
    return meaning
