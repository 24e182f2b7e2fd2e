"""The words of days and times as data: the file ``lexicon/<language>/days.yaml``, checked and loaded once."""

from __future__ import annotations

from collections.abc import Mapping
from enum import IntEnum
from functools import cache, lru_cache
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, ValidationError, field_validator

from bot.terms.data_file import data_of
from bot.terms.language import LANGUAGES


class Strength(IntEnum):
    """How surely words are a day or a time, seen without the names of a shelf."""

    WEAK = 1
    LIKELY = 2
    CERTAIN = 3


class RuleData(BaseModel):
    """One rule of a language, as its file has it.

    In ``say`` a part in ``[…]`` may be missing, ``(a|b)`` is either, ``{month}`` stands for a word
    of the list of that name, ``{n2}`` for a second word of the list ``n``, ``{month_sure}`` for a word
    of a shorter list of months. ``example`` is a message that must reach the rule. ``alone`` is false
    for words that are a time only beside another (the "morning" of "sat morning"). ``unless_next`` (one
    or more) and ``unless_before`` name a list of words that, right after or before, make it something else;
    ``behind``, written as ``say``, has to stand right before, ``ahead`` right after; what fills the lists of
    ``ahead`` is of the rule, so that "the 3rd" of "the 3rd and 5th of May" has its month. ``apart``: only
    between marks or the ends of the text. ``own_line``: only where nothing else stands on its line.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: str
    kind: Literal["day", "part", "clock", "period"]
    means: str
    say: tuple[str, ...]
    example: str
    strength: Strength = Strength.CERTAIN
    days: int | None = None
    part: str | None = None
    which: str | None = None
    alone: bool = True
    unless_next: tuple[str, ...] = ()
    unless_before: str | None = None
    opens: str | None = None
    behind: str | None = None
    ahead: str | None = None
    apart: bool = False
    own_line: bool = False

    @field_validator("unless_next", mode="before")
    @classmethod
    def _one_or_more(cls, value: object) -> object:
        return (value,) if isinstance(value, str) else value

    @field_validator("strength", mode="before")
    @classmethod
    def _by_name(cls, value: object) -> object:
        return Strength[value.upper()] if isinstance(value, str) else value


class DaysData(BaseModel):
    """A language's file of days: word lists, lists of bystanders, joining words and rules."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    words: Mapping[str, Mapping[int | str, tuple[str, ...]]]
    lists: Mapping[str, tuple[str, ...]]
    glue: tuple[str, ...]
    either: tuple[str, ...]
    owner: str | None = None  # what makes a date own what follows: "May 3rd's feed"
    rules: tuple[RuleData, ...]


class DaysFileError(ValueError):
    """A file of days says something that cannot be; the message tells where and what."""


@lru_cache(maxsize=16)
def days_data(language: str) -> DaysData:
    """The words and rules of a language. Raises :class:`DaysFileError`."""
    raw: Any = data_of("bot.reading", "lexicon", language, "days.yaml")
    try:
        return DaysData.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(map(str, first["loc"]))
        raise DaysFileError(f"{language}/days.yaml: {where}: {first['msg']}") from error


@cache
def short_weekdays() -> frozenset[str]:
    """Short words for weekdays that are no other word of their language."""
    tables = (days_data(language).words.get("weekday_sure", {}) for language in LANGUAGES)
    return frozenset(word for table in tables for words in table.values() for word in words)
