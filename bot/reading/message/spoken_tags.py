"""Numbered names and marks as they are dictated: "gbb two" is "gbb 2", "t oh seven" "t 07", "comma" a comma.

They are read as what would have been written; whether the number names or counts is settled there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Final

from bot.reading.message.spoken import spoken
from bot.reading.message.spoken_figures import pair_at
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import lexicon
from bot.reading.words.numbers import numbers_data, sum_of
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import Token

#: A row's name, and a number behind it, have no more words than this.
_MOST_WORDS: Final = 3
#: Letters that a tag begins with and that are words of their own, unless in capitals.
_WORDS_TOO: Final = rule_words("letters_that_are_words")
#: Behind these "one" stands for somebody: "the gbb one".
_ARTICLES: Final = rule_words("before_a_spoken_tag")


def heard(tokens: Sequence[Token], names: ShelfNames, language: str) -> Iterator[tuple[int, int, str]]:
    """What was dictated: its first token, the one after its last, and how it is written."""
    known, number_words = spoken(language), _number_words(language)
    row: Mapping[str, str] = {}
    end = 0
    dictates = not known.marks_begin.isdisjoint(token.key for token in tokens)
    for place, token in enumerate(tokens):
        if token.key in known.marks_begin:
            yield from _mark(tokens, place, known.marks, names)
        elif dictates and token.key in known.marks_among_others:
            yield from _mark(tokens, place, known.marks_among_others, names)
        elif token.key in number_words:
            pair = pair_at(tokens, place, names, known, number_words) if place >= end else None
            if pair is not None:
                end = pair[1]
                yield pair
                continue
            if not place:
                continue
            row = _row_before(tokens, place, names) or row
            free = place == end or tokens[place - 1].key not in {*number_words, *_GO_ON}
            for number in _number(tokens, place, row, number_words) if row and free else ():
                end = number[1]
                if not _counts(tokens, end, language):
                    yield number
        elif len(token.key) == 1 and token.kind == "word":
            yield from _spelled(tokens, place, names)


def _mark(
    tokens: Sequence[Token], place: int, marks: Mapping[str, str], names: ShelfNames
) -> Iterator[tuple[int, int, str]]:
    """ "full stop", "new line"; but not "came to a full stop", and nobody who is called Comma."""
    for words, mark in marks.items():
        said = words.split()
        end = place + len(said)
        if [token.key for token in tokens[place:end]] != said or tuple(said) in names.phrases:
            continue
        before = tokens[place - 1].key if place else ""
        behind = tokens[end].key if end < len(tokens) else ""
        if before not in _ARTICLES and behind != "of":
            yield place, end, mark


def _row_before(tokens: Sequence[Token], place: int, names: ShelfNames) -> Mapping[str, str]:
    """The row whose name stands right before a number: "gbb two", "gbbs one and three"."""
    place -= tokens[place - 1].key in _NUMBER
    for size in range(1, min(_MOST_WORDS, place) + 1):
        start = place - size
        said = tuple(token.key for token in tokens[start:place])
        row = next((r for r in (said, (*said[:-1], said[-1].removesuffix("s"))) if r in names.numbered), None)
        if row is not None and not _no_name(tokens, start, place, names):
            return names.numbered[row]
    return {}


def _number(
    tokens: Sequence[Token], place: int, row: Mapping[str, str], number_words: Mapping[str, int]
) -> Iterator[tuple[int, int, str]]:
    """The number of one of a row: "gbb two", "t twelve", "t oh seven", and "three" behind them."""
    for end in range(min(place + _MOST_WORDS, len(tokens)), place, -1):
        said = [number_words.get(token.key) for token in tokens[place:end]]
        values = [value for value in said if value is not None]
        figures = _of_the_row(row, values) if len(values) == len(said) else None
        behind = [token.key for token in tokens[end : end + 2]]
        if figures is not None and not (_GO_ON.intersection(behind[:1]) or " ".join(behind) in _HALVES):
            yield place, end, figures + ("'s" if tokens[end - 1].owns else "")
            return


def _counts(tokens: Sequence[Token], place: int, language: str) -> bool:
    """Whether prey follows a number, which then counts it as likely as it names: "fed gbb two crickets"."""
    hers = place == len(tokens) or tokens[place - 1].owns
    senses = () if hers else lexicon(language).account.senses(tokens[place].key)
    return any(sense.cat in {"prey", "size"} for sense in senses)


#: What may stand between a row's name and its number.
_NUMBER: Final = rule_words("number_said")
#: Words with which a number goes on: "two hundred", "two point five", "two and a half".
_GO_ON: Final = rule_words("number_goes_on")
_HALVES: Final = rule_words("and_a_half")


def _no_name(tokens: Sequence[Token], start: int, place: int, names: ShelfNames) -> bool:
    """Whether a row's word before a number is none: "a one litre tub", "shelf b four", "the gbb one"."""
    first, before = tokens[start], tokens[start - 1].key if start else ""
    if first.key in _WORDS_TOO and not first.upper:
        return True
    if any(token.owns for token in tokens[start:place]):
        return True
    placed = any(hit.how == "place" for hit in names.phrases.get((before, first.key), ()))
    return placed or (before in _ARTICLES and tokens[place].key in _ONE)


_ONE: Final = rule_words("bare_one")


def _of_the_row(row: Mapping[str, str], values: Sequence[int]) -> str | None:
    """The figures of a number that somebody of the row has."""
    if values[0] == 0 or len(values) == 1:
        number: int | None = int("".join(map(str, values)))
    else:
        number = sum_of(values)
    return next((figures for figures in row if int(figures) == number), None)


def _spelled(tokens: Sequence[Token], place: int, names: ShelfNames) -> Iterator[tuple[int, int, str]]:
    """ "g b b": a trade name's letters, one by one."""
    if place and len(tokens[place - 1].key) == 1 and tokens[place - 1].kind == "word":
        return  # it began before
    end = place
    while end < len(tokens) and len(tokens[end].key) == 1 and tokens[end].kind == "word":
        end += 1
    letters = "".join(token.key for token in tokens[place:end])
    if len(letters) > 1 and (letters,) in names.phrases:
        yield place, end, letters + ("'s" if tokens[end - 1].owns else "")


@lru_cache(maxsize=16)
def _number_words(language: str) -> Mapping[str, int]:
    data = numbers_data(language)
    return {**data.units, **data.tens, **spoken(language).digits}
