"""Every word on charts and paper, in one file for each language, with named blanks.

What draws a picture or a page speaks the language of the settings that it gets (:mod:`bot.terms.language`).
"""

from __future__ import annotations

from collections.abc import Mapping

from bot.terms import language
from bot.terms.data_file import sentences_of


def written_in(spoken: str) -> Mapping[str, str | tuple[str, ...]]:
    """All texts that the file of a language has, by dotted key; lists of words come as tuples."""
    return sentences_of(__package__, f"{spoken}.yaml")


def sentences() -> Mapping[str, str | tuple[str, ...]]:
    """All texts of the language that is spoken now."""
    return language.sentences_in(__package__, language.spoken())


def say(key: str, **blanks: object) -> str:
    """The text of that key with its blanks filled. Raises ``KeyError`` for an unknown key or blank."""
    text = sentences()[key]
    assert isinstance(text, str), key
    return text.format_map(blanks)


def words(key: str) -> tuple[str, ...]:
    """A list of words: month names, first aid lines."""
    found = sentences()[key]
    assert isinstance(found, tuple), key
    return found


def has(key: str) -> bool:
    """Whether there is a text of that key."""
    return key in sentences()


def days(n: int) -> str:
    """``1 day``, ``12 days``."""
    return say("days.one") if n == 1 else say("days.many", n=n)


def some(n: int, noun: str) -> str:
    """A number of things: ``1 molt``, ``3 molts``; the noun is a key under ``counts``."""
    return say(f"counts.{noun}.{'one' if n == 1 else 'many'}", n=n)
