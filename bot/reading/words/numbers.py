"""Whole numbers in a keeper's message: figures, words, "x2", ranges, "a couple".

Decimals, fractions and figures glued to letters (``T07``, ``B3``) are no whole numbers and give nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any, Final

from pydantic import BaseModel, ConfigDict, Field

from bot.reading.words.numbers_glued import GluedData, glued
from bot.reading.words.scan import Words, first_words
from bot.terms.data_file import data_of
from bot.terms.value_object import value_object

#: No count of animals is longer than this many figures.
_LONGEST: Final = 7
#: So many letters the words before a number may have that say it is not exact.
_SO_FAR: Final = 24


@value_object()
class NumberSpan:
    """A number found in a text, ``text[start:end]``.

    ``value`` is the number, the first of a range, or ``None`` for "a few"; ``high`` the last of a range.
    ``approx`` for "a couple", "about 5" and "5+", ``article`` for a bare "a" or "an", ``ordinal`` for "3rd".
    """

    start: int
    end: int
    value: int | None
    high: int | None = None
    approx: bool = False
    article: bool = False
    ordinal: bool = False

    @property
    def doubt(self) -> str | None:
        """Why the number may not be stored unasked: ``range``, ``approx``, or nothing."""
        return "range" if self.high is not None else "approx" if self.approx else None


class _Phrase(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    say: tuple[str, ...]
    value: int | None = None
    approx: bool = False


class NumbersData(BaseModel):
    """A language's file of numbers, ``lexicon/<language>/numbers.yaml``."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    units: Mapping[str, int]
    tens: Mapping[str, int]
    scales: Mapping[str, int]
    and_: tuple[str, ...] = Field(alias="and")
    tens_first: bool
    articles: tuple[str, ...]
    phrases: tuple[_Phrase, ...]
    about: tuple[str, ...]
    behind: tuple[str, ...]
    range: tuple[str, ...]
    between: tuple[str, ...]
    ordinals: Mapping[str, int]
    ordinal_endings: tuple[str, ...]
    thousands: str
    decimal: str
    times: tuple[str, ...]
    glued: GluedData | None = None


@lru_cache(maxsize=16)
def numbers_data(language: str) -> NumbersData:
    """The number words of a language."""
    raw: Any = data_of("bot.reading", "lexicon", language, "numbers.yaml")
    return NumbersData.model_validate(raw)


def find_numbers(words: Words, language: str = "en") -> list[NumberSpan]:
    """All whole numbers of a plain text, sorted, none overlapping; ranges are one span."""
    return _grammar(language).find(words)


def _either(words: Sequence[str]) -> str:
    return "|".join(re.escape(w) for w in sorted(words, key=len, reverse=True))


class _Numbers:
    """The number grammar of one language."""

    def __init__(self, data: NumbersData) -> None:
        self._data = data
        self._phrases = {say.lower(): phrase for phrase in data.phrases for say in phrase.say}
        self._words = {**data.units, **data.tens, **data.scales}
        joined = glued(data.glued, data.units, data.tens) if data.glued is not None else {}
        self._glued = {word: value for word, value in joined.items() if word not in self._words}
        word, joint = _either(tuple(self._words)), _either(data.and_)
        thousands = re.escape(data.thousands)
        figures = rf"\d{{1,3}}(?:{thousands}\d{{3}})+|\d{{1,{_LONGEST}}}"
        times, endings = _either(data.times), _either(data.ordinal_endings)
        between = rf"(?:[ ]{{1,2}}(?:(?:{joint})[ ]{{1,2}})?|-)" if data.tens_first else r"[ ]?"
        article = _either(data.articles)
        # a figure is not free where it goes on a tag, a price, a decimal, a fraction, a date or a clock time
        free = r"(?<![\w#/£$€])(?<!\w[.'-])(?<!\d:)" + ("(?<!\\d,)" if data.decimal == "," else "")
        no_decimal = r"(?!,\d)" if data.decimal == "," else r"(?!,\d{3}(?!\d))"
        scales = _either(tuple(data.scales))
        self._pattern = re.compile(
            rf"""
              (?P<phrase>\b(?:{_either(tuple(self._phrases))})\b)
            | (?P<words>\b(?:(?:{article})[ ](?={scales}))?(?:{word})(?:{between}(?:{word}))*\b)
            | (?P<ordword>\b(?:{_either(tuple(data.ordinals))})\b)
            | {free}(?P<low>\d{{1,4}})[ ]?[-–][ ]?(?P<high>\d{{1,4}})(?![\w/°%'-])(?![.,:]\d)
            | {free}(?:(?:{times})[ ]?)?(?P<figures>{figures})
              (?:(?P<ending>{endings})\b|(?:[ ]?(?:{times})(?!\w))?(?![\w/°'])(?![.:-]\w){no_decimal})
            | (?P<article>\b(?:{article})\b)(?!['.-])
            """,
            re.IGNORECASE | re.VERBOSE,
        )
        begin = (*self._phrases, *self._words, *self._glued, *data.ordinals, *data.articles, *data.times)
        self._firsts = frozenset(first_words(begin))
        self._times_letters = frozenset(say[0] for say in data.times)
        around = (*data.about, *data.behind)
        self._about_words = frozenset(first_words(around))
        self._about_signs = frozenset(say for say in around if not say[0].isalpha())
        self._range = re.compile(rf"[ ]{{0,2}}(?:{_either(data.range)})[ ]{{0,2}}", re.IGNORECASE)
        self._both_ends = re.compile(rf"[ ]{{1,2}}(?:{joint})[ ]{{1,2}}", re.IGNORECASE)
        self._between = re.compile(rf"\b(?:{_either(data.between)})[ ]{{1,2}}$", re.IGNORECASE)
        self._about = re.compile(rf"(?:{_either(data.about)})[ ]{{0,2}}$", re.IGNORECASE)
        signs = _either([say for say in data.behind if not say[0].isalpha()])
        said = _either([say for say in data.behind if say[0].isalpha()])
        another = rf"(?![ ]{{0,2}}(?:\d|(?:{article}|{word})\b))"  # "GBB 1+ 2", "two plus a roach"
        self._behind = re.compile(rf"(?:(?:{signs})(?!\w)|[ ]{{1,2}}(?:{said})\b){another}", re.IGNORECASE)

    def find(self, words: Words) -> list[NumberSpan]:
        """All numbers, ranges joined."""
        out: list[NumberSpan] = []
        text = words.text
        for span in self._single(words):
            if out and self._is_range(out[-1], span, text):
                out[-1] = replace(out[-1], end=span.end, high=span.value)
            else:
                out.append(span)
        if words.letters.isdisjoint(self._about_words) and self._about_signs.isdisjoint(text):
            return out
        return [self._rounded(span, text) for span in out]

    def _single(self, words: Words) -> Iterator[NumberSpan]:
        at, text = 0, words.text
        for place, word in words.at if words.may_begin(self._firsts) else ():
            if place < at or not (word in self._firsts or word[0].isdigit() or self._times_glued(word)):
                continue
            if word in self._glued:
                at = place + len(word)
                yield NumberSpan(place, at, self._glued[word])
                continue
            match = self._pattern.match(text, place)
            if match:
                at = match.end()
                yield from self._meant(match)

    def _times_glued(self, word: str) -> bool:
        """ "x2"."""
        return word[0] in self._times_letters and word[-1].isdigit()

    def _meant(self, match: re.Match[str]) -> Iterator[NumberSpan]:
        start, end = match.span()
        said = match.group().lower()
        kind = match.lastgroup
        if kind == "article":
            yield NumberSpan(start, end, 1, article=True)
        elif kind in {"figures", "ending"}:
            value = int(match["figures"].replace(self._data.thousands, ""))
            yield NumberSpan(start, end, value, ordinal=kind == "ending")
        elif kind == "words":
            yield from self._from_words(said, start, end)
        elif kind == "phrase":
            phrase = self._phrases[" ".join(said.split())]
            yield NumberSpan(start, end, phrase.value, approx=phrase.approx)
        elif kind == "ordword":
            yield NumberSpan(start, end, self._data.ordinals[said], ordinal=True)
        else:
            yield from self._from_range(match)

    def _from_words(self, said: str, start: int, end: int) -> Iterator[NumberSpan]:
        """One number where the words make one, else each word by itself ("two three")."""
        found = list(re.finditer(r"[^\W\d_]+", said))
        values = [self._words[m.group()] for m in found if m.group() in self._words]
        whole = sum_of(values)
        if whole is not None:
            yield NumberSpan(start, end, whole)
            return
        for m in found:
            if m.group() in self._words:
                yield NumberSpan(start + m.start(), start + m.end(), self._words[m.group()])

    @staticmethod
    def _from_range(match: re.Match[str]) -> Iterator[NumberSpan]:
        low, high = int(match["low"]), int(match["high"])
        if low < high:
            yield NumberSpan(match.start(), match.end(), low, high)

    def _is_range(self, low: NumberSpan, high: NumberSpan, text: str) -> bool:
        plain = not (low.article or low.ordinal or high.article or high.ordinal or low.approx or high.approx)
        if not plain or low.high is not None or low.value is None or high.value is None:
            return False
        if low.value >= high.value:
            return False
        joins = self._range.fullmatch(text, low.end, high.start) is not None
        return joins or self._is_between(low, high, text)

    def _is_between(self, low: NumberSpan, high: NumberSpan, text: str) -> bool:
        """ "between 4 and 5 crickets": no two counts."""
        both = self._both_ends.fullmatch(text, low.end, high.start) is not None
        return both and self._between.search(text, max(0, low.start - _SO_FAR), low.start) is not None

    def _rounded(self, span: NumberSpan, text: str) -> NumberSpan:
        """ "about 5", "at least 5", "5 or more", "5+": not so many for sure."""
        if span.article or span.ordinal:
            return span
        behind = self._behind.match(text, span.end)
        if behind is None and not self._about.search(text, max(0, span.start - _SO_FAR), span.start):
            return span
        return replace(span, end=behind.end() if behind is not None else span.end, approx=True)


def sum_of(values: Sequence[int]) -> int | None:
    """The number that number words make in their order ("two hundred and five": 205), or nothing."""
    total = group = 0
    last = 10_000
    for value in values:
        if value in _SCALES:
            group, total, last = _scaled(group, total, value)
            if value == 100 and last == 0:
                return None
        elif value >= last or (group % 100 and (group % 10 or value > 9)):
            return None
        else:
            group += value
            last = value if value >= 20 else 1
    return total + group


#: What multiplies what was said before it; the hundreds of Spanish are words of their own, and only add.
_SCALES: Final = frozenset({100, 1000})


def _scaled(group: int, total: int, scale: int) -> tuple[int, int, int]:
    """A scale word multiplies what was said before it in its group; last is 0 where that cannot be."""
    head = group or 1
    if scale == 100:
        return (head * 100, total, 100) if head < 100 else (group, total, 0)
    return 0, total + head * 1000, 1000


@lru_cache(maxsize=16)
def _grammar(language: str) -> _Numbers:
    return _Numbers(numbers_data(language))
