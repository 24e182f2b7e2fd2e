"""What was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.questions.stretches import stretch_meant
from bot.reading.wanted.newcomer_patterns import OfOne, of_one
from bot.reading.wanted.newcomer_words import name_in, sorted_words
from bot.reading.words.phrasings import SHARED, folded, meaning
from bot.terms import KeeperSettings, Sex, Stage, day_at
from bot.terms.keeper import CM_PER_INCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Newcomer:
    """What was said of an animal to be added.

    ``words`` are the parts that may be its name or species, ``name`` is what it is plainly called,
    ``kind`` the words that are a species' or a genus'. ``came`` are the words for the day since which it
    has been kept ("March 2021"), ``kept`` says that it is no new arrival, ``new`` that it is one of today.
    ``source`` is whom or where it is from. ``own_tags`` are those said for a number of animals that they do
    not agree with. ``unread`` are the parts that are none of all this.
    """

    words: tuple[str, ...] = ()
    name: str | None = None
    kind: str | None = None
    tag: str | None = None
    place: str | None = None
    span_cm: Decimal | None = None
    stage: Stage | None = None
    sex: Sex | None = None
    count: int = 1
    lot: bool = False
    came: str | None = None
    kept: bool = False
    new: bool = False
    source: str | None = None
    own_tags: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()


_CM: Final = {"cm": Decimal(1), "mm": Decimal("0.1")}
_HEAD: Final = re.compile(r"(\d{1,3})(?:\s*x)?\s+(?=\D)|([^\W\d]+)\s+")


def newcomer_from(rest: str, names: ShelfNames | None = None, language: str = SHARED) -> Newcomer:
    """The parts of what was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``.

    ``names`` are those of the shelf: its places and species are known by them.
    """
    said = of_one(language)
    rest, tag = _taken(said.tag, rest)
    rest, span = _taken(said.span, rest)
    rest, lot = _taken(said.lot, rest)
    rest, kept = _taken(said.kept, rest)
    rest, new = _taken(said.new, rest)
    rest, came = _taken(said.arrived, rest)
    if came is None:
        rest, came = _taken(said.came, rest)
    rest, called = _taken(said.called, rest)
    rest, place = _place_taken(said, rest, names)
    rest, source = _taken(said.source, rest)
    rest, stage = _taken(said.stage, rest)
    rest, sex = _taken(said.sex, rest)
    count, rest = _counted(rest, said.numbers)
    stage_meant = Stage(meaning("stages", language)[folded(stage[0])]) if stage else None
    name, kind_behind = name_in(called["said"], names) if called else (None, None)
    words, kind, unread = sorted_words(f"{rest}, {kind_behind or ''}", names, language)
    return Newcomer(
        words=words,
        name=name,
        kind=kind,
        tag=tag[1] if tag else None,
        place=place,
        span_cm=_cm(span) if span else None,
        stage=stage_meant,
        sex=_sex(sex, stage_meant, language),
        count=int(lot[1]) if lot else count,
        lot=lot is not None,
        came=came["said"].strip() if came else None,
        kept=kept is not None,
        new=new is not None,
        source=source["said"].strip() if source else None,
        unread=unread,
    )


def came_on(words: str, names: ShelfNames, now: datetime, settings: KeeperSettings) -> date | None:
    """The day since which an animal is kept: "March 2021", "2019", "3 years"; the first of a month or year.

    ``None`` where the words are no time, or one to come.
    """
    found = stretch_meant(words, names, now=now, settings=settings)
    if found is None or found.first > day_at(now, settings.day_starts):
        return None
    return found.first


def _sex(said: re.Match[str] | None, stage: Stage | None, language: str) -> Sex | None:
    """The sex that was said, or that goes with the stage: a mature male is a male."""
    if stage is Stage.MATURE_MALE:
        return Sex.MALE
    return Sex(meaning("sexes", language)[folded(said[0])]) if said else None


# --- taking pieces out ------------------------------------------------------------------------


def _taken(pattern: re.Pattern[str], text: str) -> tuple[str, re.Match[str] | None]:
    """The text without what the pattern finds in it, and what it found."""
    found = pattern.search(text)
    if found is None:
        return text, None
    return f"{text[: found.start()]}, {text[found.end() :]}", found


def _place_taken(said: OfOne, text: str, names: ShelfNames | None) -> tuple[str, str | None]:
    """The text without the place, and the place: one of the shelf, or words with what a place is called."""
    for pattern in said.places(tuple(names.places) if names is not None else ()):
        rest, found = _taken(pattern, text)
        if found is not None:
            return rest, found["place"].strip()
    return text, None


def _cm(found: re.Match[str]) -> Decimal:
    """The length that was said, or the middle of "2 to 3 cm"."""
    said = [Decimal(value.replace(",", ".")) for value in found.group(1, 2) if value]
    return sum(said, Decimal(0)) / len(said) * _CM.get(found[3].lower(), CM_PER_INCH)


def _counted(rest: str, numbers: Mapping[str, int]) -> tuple[int, str]:
    """How many there are by the number that the words begin with, and the words behind it."""
    rest = rest.lstrip(" ,;:")
    found = _HEAD.match(rest)
    if found is None:
        return 1, rest
    if found[1]:
        return int(found[1]), rest[found.end() :]
    number = numbers.get(found[2].lower())
    return (number, rest[found.end() :]) if number else (1, rest)
