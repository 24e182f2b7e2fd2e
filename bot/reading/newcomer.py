"""What was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Final

from bot.reading.phrasings import data, either, folded, meaning, synonyms
from bot.terms import Sex, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class Newcomer:
    """What was said of an animal to be added. ``words`` are the parts that may be its name or species."""

    words: tuple[str, ...] = ()
    tag: str | None = None
    place: str | None = None
    span_cm: Decimal | None = None
    stage: Stage | None = None
    sex: Sex | None = None
    count: int = 1


_NEWCOMER_TAG: Final = re.compile(
    r"(?<!\w)(?:tag|label|code)(?:ged)?\s*(?:is|:|=)?\s*([\w.\-/#]{1,16})", re.I
)
_SPAN: Final = re.compile(
    r"(?<![\w.])(\d{1,2}(?:[.,]\d{1,2})?)\s*(cm|mm|in|inch|inches|\")(?!\w)(?:\s*(?:dls|ls|leg\s*span|span))?",
    re.I,
)
_LOT: Final = re.compile(r"(?<!\w)(?:lot|group|commune|communal)\s*of\s*(\d{1,4})(?!\w)", re.I)
_CM: Final = {"cm": Decimal(1), "mm": Decimal("0.1")}
_INCH: Final = Decimal("2.54")


def newcomer_from(rest: str) -> Newcomer:
    """The parts of what was said of an animal to be added: ``B. hamorii, tag A8, 1.5 cm on shelf A``."""
    rest, tag = _taken(_NEWCOMER_TAG, rest)
    rest, span = _taken(_SPAN, rest)
    rest, lot = _taken(_LOT, rest)
    rest, place = _taken(_place_pattern(), rest)
    rest, stage = _taken(_word_pattern("stages"), rest)
    rest, sex = _taken(_word_pattern("sexes"), rest)
    words = tuple(part for raw in re.split(r"[,;:]|\s-\s", rest) if (part := _clean(raw)))
    return Newcomer(
        words=words,
        tag=tag[1] if tag else None,
        place=place[1] if place else None,
        span_cm=_cm(span) if span else None,
        stage=Stage(meaning("stages")[folded(stage[0])]) if stage else None,
        sex=Sex(meaning("sexes")[folded(sex[0])]) if sex else None,
        count=int(lot[1]) if lot else 1,
    )


def _taken(pattern: re.Pattern[str], text: str) -> tuple[str, re.Match[str] | None]:
    """The text without what the pattern finds in it, and what it found."""
    found = pattern.search(text)
    if found is None:
        return text, None
    return f"{text[: found.start()]}, {text[found.end() :]}", found


@cache
def _place_pattern() -> re.Pattern[str]:
    nouns = either(data()["places"])
    return re.compile(
        rf"(?<!\w)(?:to|on|onto|in|at|into)\s+(?:the\s+|my\s+)?((?:{nouns})[^,;]*|[^,;]*?(?:{nouns}))\s*(?=$|[,;])",
        re.I,
    )


@cache
def _word_pattern(key: str) -> re.Pattern[str]:
    return re.compile(either(synonyms(key)), re.I)


def _cm(found: re.Match[str]) -> Decimal:
    value = Decimal(found[1].replace(",", "."))
    return value * _CM.get(found[2].lower(), _INCH)


def _clean(words: str) -> str:
    found = re.sub(r"^(?:a|an|the|called|named|it is|it's)\s+", "", words.strip(), flags=re.I)
    found = re.sub(r"\s+(?:to|on|in|at|into|onto)$", "", found, flags=re.I)
    return found.strip(" .'\"")
