"""Repetitions that follow the calendar: "on the first Sunday", "every year on 3 June", as RFC 5545 rules."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from itertools import product
from typing import Any, Final, NamedTuple

from bot.reading.days.words import days_data
from bot.reading.words.phrasings import compiled, either, needed, openings
from bot.reading.words.scan import Words, first_words
from bot.terms.data_file import data_of
from bot.terms.recurrence import WEEKDAYS

_NTHS: Final = 5


class Repeats(NamedTuple):
    """A repetition by the calendar found in a text at ``text[start:end]``, and its rule."""

    start: int
    end: int
    rule: str


def repeats_in(words: Words, language: str) -> Repeats | None:
    """The repetition by the calendar in a plain text: the longest, and of two alike the rule listed first.

    A way to say a rule is tried only where what it needs is said, at the words that it can begin with.
    """
    ways, beginning = _ways(language)
    matches: dict[int, re.Match[str]] = {}
    begun = [(start, word) for start, word in words.at if word in beginning]
    said = {word for _, word in words.at} if begun else set()
    for start, word in begun:
        for way in beginning[word]:
            if way in matches or ways[way].needs.isdisjoint(said):
                continue
            if found := ways[way].pattern.match(words.text, start):
                matches[way] = found
    if not matches:
        return None
    way = min(matches, key=lambda way: (-len(matches[way][0]), way))
    found = matches[way]
    return Repeats(found.start(), found.end(), _filled(ways[way].rule, found, language))


def counts_from_done(text: str, language: str) -> tuple[int, int] | None:
    """The place of the words by which a repetition counts from when the thing was done."""
    found = _any_of("from_done", language).search(text)
    return found.span() if found is not None else None


def _filled(rule: str, found: re.Match[str], language: str) -> str:
    values = {}
    for slot, said in found.groupdict().items():
        values[slot] = _values(language)[slot.rstrip("2")][" ".join(said.lower().split())]
    return rule.format_map(values)


@cache
def _data(language: str) -> Mapping[str, Any]:
    """The file of a language; a language without one has no repetitions by the calendar."""
    file = files("bot.reading") / "lexicon" / language / "recurrences.yaml"
    if not file.is_file():
        return {"last": [], "from_done": [], "rules": []}
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, "recurrences.yaml")
    return found


class _Way(NamedTuple):
    """One way to say a rule. Of the words in ``needs`` one stands in whatever it matches, near its end."""

    rule: str
    pattern: re.Pattern[str]
    needs: frozenset[str]


@cache
def _ways(language: str) -> tuple[Sequence[_Way], Mapping[str, Sequence[int]]]:
    """Every way to say a rule, in order, and by each word the places of those that begin with it."""
    said = {slot: sorted(words, key=len, reverse=True) for slot, words in _values(language).items()}
    slots = said | {f"{slot}2": words for slot, words in said.items()}
    ways: list[_Way] = []
    beginning: dict[str, list[int]] = {}
    for row in _data(language)["rules"]:
        for say in row["say"]:
            for word in set(first_words(openings(say, slots))):
                beginning.setdefault(word, []).append(len(ways))
            *_, last = needed(say, slots)
            ways.append(_Way(row["rule"], compiled(say, slots), frozenset(first_words(last))))
    return ways, beginning


@cache
def _any_of(key: str, language: str) -> re.Pattern[str]:
    """Any of the words of a list; nothing where it has none."""
    said = sorted(_data(language)[key], key=len, reverse=True)
    return re.compile(either(said) or "(?!)", re.IGNORECASE)


def examples(language: str) -> dict[str, str]:
    """For each rule a message that must reach it."""
    return {row["rule"]: row["example"] for row in _data(language)["rules"]}


@cache
def _values(language: str) -> dict[str, dict[str, str]]:
    """For each slot its words and what they stand for in a rule."""
    words, own = days_data(language).words, _data(language)
    nths = {word: str(number) for number, word in _each(words["nth"], own.get("nths", {}))}
    days = nths | {str(number): str(number) for number in range(1, 32)}
    return {
        "nth": {word: number for word, number in nths.items() if int(number) <= _NTHS}
        | dict.fromkeys(own["last"], "-1"),
        "day": days,
        "weekday": {
            word: WEEKDAYS[number]
            for number, word in _each(words["weekday"], words.get("weekday_plural", {}))
        },
        "weekdays": {word: WEEKDAYS[number] for number, word in _each(own.get("weekdays", {}))},
        "month": {word: str(number) for number, word in _each(words["month"])},
    }


def _each(*lists: object) -> list[tuple[int, str]]:
    out = []
    for one in lists:
        assert hasattr(one, "items")
        out += [(int(n), word) for n, said in one.items() for n, word in product([n], said)]
    return out
