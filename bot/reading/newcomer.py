"""What was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from typing import Final

from bot.reading.names import ShelfNames
from bot.reading.newcomer_words import name_in, sorted_words
from bot.reading.numbers import numbers_data
from bot.reading.phrasings import data, either, folded, meaning, synonyms, word_set
from bot.reading.stretches import stretch_alone
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


_NEWCOMER_TAG: Final = re.compile(
    r"(?<!\w)(?:tag|label|code)(?:ged)?(?!\w)\s*(?:is|:|=)?\s*([\w.\-/#]{1,16})", re.I
)
_SPAN: Final = re.compile(
    r"(?<![\w.])(?:(\d{1,2}(?:[.,]\d{1,2})?)\s*(?:-|–|to)\s*)?(\d{1,2}(?:[.,]\d{1,2})?)\s*(cm|mm|in|inch|inches|\")(?!\w)(?:\s*(?:dls|ls|leg\s*span|span))?",
    re.I,
)
_LOT: Final = re.compile(r"(?<!\w)(?:lot|group|commune|communal)\s*of\s*(\d{1,4})(?!\w)", re.I)
_CM: Final = {"cm": Decimal(1), "mm": Decimal("0.1")}
_HEAD: Final = re.compile(r"(\d{1,3})(?:\s*x)?\s+(?=\D)|([^\W\d]+)\s+")


def newcomer_from(rest: str, names: ShelfNames | None = None) -> Newcomer:
    """The parts of what was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``.

    ``names`` are those of the shelf: its places and species are known by them.
    """
    rest, tag = _taken(_NEWCOMER_TAG, rest)
    rest, span = _taken(_SPAN, rest)
    rest, lot = _taken(_LOT, rest)
    rest, kept = _taken(_pattern("newcomer_kept"), rest)
    rest, new = _taken(_pattern("newcomer_new"), rest)
    rest, came = _taken(_arrived(), rest)
    if came is None:
        rest, came = _taken(_led_by("newcomer_came"), rest)
    rest, called = _taken(_led_by("newcomer_called"), rest)
    rest, place = _place_taken(rest, names)
    rest, source = _taken(_led_by("newcomer_from"), rest)
    rest, stage = _taken(_word_pattern("stages"), rest)
    rest, sex = _taken(_word_pattern("sexes"), rest)
    count, rest = _counted(rest)
    stage_meant = Stage(meaning("stages")[folded(stage[0])]) if stage else None
    name, kind_behind = name_in(called["said"], names) if called else (None, None)
    words, kind, unread = sorted_words(f"{rest}, {kind_behind or ''}", names)
    return Newcomer(
        words=words,
        name=name,
        kind=kind,
        tag=tag[1] if tag else None,
        place=place,
        span_cm=_cm(span) if span else None,
        stage=stage_meant,
        sex=_sex(sex, stage_meant),
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
    for said in (f"in {words}", words, f"on {words}", f"for {words}"):
        found = stretch_alone(said, names, now=now, settings=settings)
        if found is not None:
            return found.first if found.first <= day_at(now, settings.day_starts) else None
    return None


def _sex(said: re.Match[str] | None, stage: Stage | None) -> Sex | None:
    """The sex that was said, or that goes with the stage: a mature male is a male."""
    if stage is Stage.MATURE_MALE:
        return Sex.MALE
    return Sex(meaning("sexes")[folded(said[0])]) if said else None


# --- taking pieces out ------------------------------------------------------------------------


def _taken(pattern: re.Pattern[str], text: str) -> tuple[str, re.Match[str] | None]:
    """The text without what the pattern finds in it, and what it found."""
    found = pattern.search(text)
    if found is None:
        return text, None
    return f"{text[: found.start()]}, {text[found.end() :]}", found


def _place_taken(text: str, names: ShelfNames | None) -> tuple[str, str | None]:
    """The text without the place, and the place: one of the shelf, or words with what a place is called."""
    patterns = [_place_pattern()]
    if names is not None and names.places:
        known = either(sorted(names.places, key=len, reverse=True))
        patterns.append(
            re.compile(rf"(?:(?<!\w)(?:to|on|onto|in|at|into)\s+(?:the\s+|my\s+)?|(?:^|[,;]\s*))"
                       rf"(?P<place>{known})\s*(?=$|[,;])", re.I)
        )  # fmt: skip
        patterns.append(re.compile(rf"(?<=\s)(?P<place>{known})\s*(?=$|[,;])", re.I))
    patterns += [_place_alone(), _numbered_place()]
    for pattern in patterns:
        rest, found = _taken(pattern, text)
        if found is not None:
            return rest, found["place"].strip()
    return text, None


@cache
def _place_pattern() -> re.Pattern[str]:
    nouns = either(data()["places"])
    return re.compile(
        r"(?<!\w)(?:to|on|onto|in|at|into)\s+(?:the\s+|my\s+)?"
        rf"(?P<place>(?:{nouns})[^,;]*|[^,;]*?(?:{nouns})(?:\s+\w{{1,2}}(?!\w))?)\s*(?=$|[,;])",
        re.I,
    )


@cache
def _place_alone() -> re.Pattern[str]:
    """A part that begins or ends with what a place is called: ", rack A bottom", ", top shelf"."""
    nouns = either(data()["places"])
    return re.compile(
        rf"(?:^|[,;])\s*(?:the\s+|my\s+)?(?P<place>(?:{nouns})[^,;]*|(?:[\w'’\-]+\s+){{0,3}}(?:{nouns}))"
        r"\s*(?=$|[,;])",
        re.I,
    )


@cache
def _numbered_place() -> re.Pattern[str]:
    """A place with its number or letter at the end of a part: "O. philippinus Mango rack B"."""
    return re.compile(rf"(?<=\s)(?P<place>(?:{either(data()['places'])})\s+\w{{1,2}})\s*(?=$|[,;])", re.I)


@cache
def _word_pattern(key: str) -> re.Pattern[str]:
    return re.compile(either(synonyms(key)), re.I)


@cache
def _pattern(key: str) -> re.Pattern[str]:
    return re.compile(either(sorted(word_set(key), key=len, reverse=True)), re.I)


@cache
def _led_by(key: str) -> re.Pattern[str]:
    """The words behind one of the lead-ins of a list, up to a mark or the next matter."""
    leads = either(sorted(word_set(key), key=len, reverse=True))
    ends = either(data()["newcomer_ends"])
    return re.compile(
        rf"(?:{leads})\s*[:“\"]?\s*(?P<said>[^,;“”\"\n]+?)[”\"]?\s*(?=$|[,;\n]|\.\s|\.$|{ends})", re.I
    )


@cache
def _arrived() -> re.Pattern[str]:
    """A day on which it came, behind a word for coming: "bought yesterday", "arrived on Friday"."""
    leads, days = (
        either(sorted(word_set(key), key=len, reverse=True)) for key in ("newcomer_arrives", "newcomer_day")
    )
    return re.compile(rf"(?<!\w)(?:{leads})\s+(?:on\s+)?(?P<said>{days})\s*(?=$|[,;.\n]|\s)", re.I)


def _cm(found: re.Match[str]) -> Decimal:
    """The length that was said, or the middle of "2 to 3 cm"."""
    said = [Decimal(value.replace(",", ".")) for value in found.group(1, 2) if value]
    return sum(said, Decimal(0)) / len(said) * _CM.get(found[3].lower(), CM_PER_INCH)


def _counted(rest: str) -> tuple[int, str]:
    """How many there are by the number that the words begin with, and the words behind it."""
    rest = rest.lstrip(" ,;:")
    found = _HEAD.match(rest)
    if found is None:
        return 1, rest
    if found[1]:
        return int(found[1]), rest[found.end() :]
    number = numbers_data("en").units.get(found[2].lower())
    return (number, rest[found.end() :]) if number else (1, rest)
