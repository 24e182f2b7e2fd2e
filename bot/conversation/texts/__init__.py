"""Every sentence the conversation says, in one file for each language, with named blanks.

Plurals, lists, dates and amounts are worked out in Python (:mod:`bot.conversation.wording`) and
handed over as finished words; a sentence only says where they stand. Families are groups of
sentences of which one is chosen by a word of the trade (an entry kind, a topic, a rest reason).
"""

from __future__ import annotations

from collections.abc import Mapping
from string import Formatter

from bot.terms import language as languages
from bot.terms.data_file import sentences_of


def sentences_in(language: str) -> Mapping[str, str | tuple[str, ...]]:
    """All texts of a language by dotted key, lists of words as tuples; what it lacks is of the first."""
    return languages.sentences_in(__package__, language)


def written_in(language: str) -> Mapping[str, str | tuple[str, ...]]:
    """The texts that the file of a language has."""
    return sentences_of(__package__, f"{language}.yaml")


def sentences() -> Mapping[str, str | tuple[str, ...]]:
    """All texts of the language that is spoken now."""
    return sentences_in(languages.spoken())


def say(key: str, **blanks: object) -> str:
    """The sentence of that key with its blanks filled. Raises ``KeyError`` for an unknown key or blank."""
    sentence = sentences()[key]
    assert isinstance(sentence, str), key
    return sentence.format_map(blanks)


def say_of(family: str, member: str, **blanks: object) -> str:
    """The sentence of a family for one member (an entry kind, a rest reason), its blanks filled."""
    return say(f"{family}.{member}", **blanks)


def has(family: str, member: str) -> bool:
    """Whether the family has a sentence for that member."""
    return f"{family}.{member}" in sentences()


def words(key: str) -> tuple[str, ...]:
    """A list of words: month names, weekday names."""
    found = sentences()[key]
    assert isinstance(found, tuple), key
    return found


def blanks_of(sentence: str) -> frozenset[str]:
    """The names of the blanks in a sentence."""
    return frozenset(name for _, name, _, _ in Formatter().parse(sentence) if name)
