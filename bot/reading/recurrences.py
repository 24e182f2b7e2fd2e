"""Repetitions that follow the calendar: "on the first Sunday", "every year on 3 June", as RFC 5545 rules."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from itertools import product
from typing import Any, Final, NamedTuple

from bot.reading.days_words import days_data
from bot.terms.data_file import data_of

_PIECE: Final = re.compile(r"\{(\w+?)(2?)\}|\[([^\]]*)\]|\((\[[^\]]*\]|[^)]*)\)|([^\s\[\](){}]+)")
_WEEKDAYS: Final = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_NTHS: Final = 5


class Repeats(NamedTuple):
    """Words about a repetition found in a text, ``text[start:end]``; a rule, or how it is counted."""

    start: int
    end: int
    rule: str


def repeats_in(text: str, language: str) -> Repeats | None:
    """The first repetition by the calendar in a plain text."""
    for rule, pattern in _rules(language):
        found = pattern.search(text)
        if found is not None:
            return Repeats(found.start(), found.end(), _filled(rule, found, language))
    return None


def counts_from_done(text: str, language: str) -> tuple[int, int] | None:
    """The place of the words by which a repetition counts from when the thing was done."""
    pattern = _from_done(language)
    found = pattern.search(text) if pattern is not None else None
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


@cache
def _rules(language: str) -> tuple[tuple[str, re.Pattern[str]], ...]:
    rows = _data(language)["rules"]
    return tuple((row["rule"], _pattern(say, language)) for row in rows for say in row["say"])


@cache
def _from_done(language: str) -> re.Pattern[str] | None:
    said = _data(language)["from_done"]
    return re.compile(rf"(?<!\w)(?:{_either(said)})(?!\w)", re.IGNORECASE) if said else None


def examples(language: str) -> dict[str, str]:
    """For each rule a message that must reach it."""
    return {row["rule"]: row["example"] for row in _data(language)["rules"]}


def _pattern(phrase: str, language: str) -> re.Pattern[str]:
    parts = []
    for slot, second, either, optional, word in _PIECE.findall(phrase):
        if slot:
            parts.append(f"(?P<{slot}{second}>{_either(_values(language)[slot])})")
        elif either:
            parts.append(f"(?:{_either(either.split('|'))})")
        elif optional:
            parts.append(f"(?:(?:{_either(optional.strip('[]').split('|'))})[ ])?")
            continue
        else:
            parts.append(re.escape(word))
        parts.append("[ ]")
    if parts and parts[-1] == "[ ]":
        parts.pop()
    return re.compile(rf"(?<!\w){''.join(parts)}(?!\w)", re.IGNORECASE)


def _either(words: object) -> str:
    assert isinstance(words, dict | list)
    said = sorted(words, key=len, reverse=True)
    return "|".join(r"[ ]{1,2}".join(map(re.escape, word.split())) for word in said)


@cache
def _values(language: str) -> dict[str, dict[str, str]]:
    """For each slot its words and what they stand for in a rule."""
    words = days_data(language).words
    nths = {word: str(number) for number, said in words["nth"].items() for word in said}
    days = nths | {str(number): str(number) for number in range(1, 32)}
    return {
        "nth": {word: number for word, number in nths.items() if int(number) <= _NTHS}
        | dict.fromkeys(_data(language)["last"], "-1"),
        "day": days,
        "weekday": {
            word: _WEEKDAYS[int(number)] for number, word in _each(words["weekday"], words["weekday_plural"])
        },
        "month": {word: str(number) for number, word in _each(words["month"])},
    }


def _each(*lists: object) -> list[tuple[int, str]]:
    out = []
    for one in lists:
        assert hasattr(one, "items")
        out += [(int(n), word) for n, said in one.items() for n, word in product([n], said)]
    return out
