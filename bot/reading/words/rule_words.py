"""The words that single rules turn on, where no sense of the lexicon tells what the rule needs to know.

They are data as all words are: ``lexicon/<language>/rule_words.yaml``, key by key, the words of a key behind
one another with commas between (lists of YAML would take ten times as long to read, and a module that is
imported asks for them). A rule holds in every language, so that the words of all languages stand beside
one another. Pure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Final

from bot.terms.data_file import data_of
from bot.terms.language import LANGUAGES

FILE: Final = "rule_words.yaml"
_BETWEEN: Final = ", "


@cache
def rules_data(language: str) -> Mapping[str, Any]:
    """The words of one language by key, as its file has them."""
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, FILE)
    return found


def rule_words(key: str) -> frozenset[str]:
    """The words of a key in all languages. Raises ``KeyError`` for one that the first language has not."""
    return frozenset(rule_words_in_order(key))


def rule_words_in_order(key: str) -> tuple[str, ...]:
    """The words of a key in the order of the file, where a rule goes by their order."""
    return tuple(word for words in _of_all(key) for word in words.split(_BETWEEN))


def rule_meanings(key: str) -> Mapping[str, str]:
    """Each word of a key that parts its words by what they stand for, with what it stands for."""
    return {
        word: str(meaning)
        for meanings in _of_all(key)
        for meaning, words in meanings.items()
        for word in words.split(_BETWEEN)
    }


def rule_openings(key: str) -> tuple[str, ...]:
    """What longer phrases open with: the words of a key, each with a space behind."""
    return tuple(f"{word} " for word in rule_words_in_order(key))


def rule_pattern(key: str) -> str:
    """The words of a key as a part of a pattern, the longest first."""
    return "|".join(map(re.escape, sorted(rule_words(key), key=lambda word: (-len(word), word))))


def _of_all(key: str) -> Iterator[Any]:
    if key not in rules_data(LANGUAGES[0]):
        raise KeyError(key)
    return (data[key] for data in map(rules_data, LANGUAGES) if key in data)
