"""Every word on charts and paper, in one file for each language, with named blanks."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any, Final

import yaml

_LANGUAGE: Final = "en"


@cache
def sentences(language: str = _LANGUAGE) -> Mapping[str, str | tuple[str, ...]]:
    """All texts of a language by dotted key; lists of words come as tuples."""
    text = files(__package__).joinpath(f"{language}.yaml").read_text(encoding="utf-8")
    flat: dict[str, str | tuple[str, ...]] = {}
    _flatten(yaml.safe_load(text), "", flat)
    return flat


def _flatten(node: Mapping[str, Any], prefix: str, into: dict[str, str | tuple[str, ...]]) -> None:
    for key, value in node.items():
        name = f"{prefix}{key}"
        if isinstance(value, Mapping):
            _flatten(value, f"{name}.", into)
        elif isinstance(value, list):
            into[name] = tuple(str(word) for word in value)
        else:
            into[name] = " ".join(str(value).split())


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
