"""A time of day said by itself, as in a setting. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from typing import Final

from bot.reading.words.phrasings import SHARED, folded, meaning, word_set
from bot.reading.words.rule_words import rule_meanings

_HOUR: Final = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{2})?)?\s*(?P<half>am|pm|a\.m\.|p\.m\.)?",
    re.I,
)
_NOON: Final = {word: time(int(hour)) for word, hour in rule_meanings("hours_with_a_name").items()}


def wall_time(words: str, language: str = SHARED) -> time | None:
    """A time of day: ``8``, ``7:30``, ``20.15``, ``8 pm``, ``half seven``, ``noon``; else ``None``.

    A spoken hour of which no half of the day is said is of the morning.
    """
    said = folded(words)
    if said in _NOON:
        return _NOON[said]
    at_first = (word for word in word_set("before_hours", language) if said.startswith(f"{word} "))
    said = said.removeprefix(next(at_first, "")).strip()
    half, said = _spoken(meaning("spoken_halves", language), said, first=False)
    _, said = _spoken(dict.fromkeys(word_set("hour_names", language), ""), said, first=False)
    minutes, said = _spoken(meaning("spoken_minutes", language), said, first=True)
    if minutes is None:
        minutes, said = _spoken(meaning("minutes_behind", language), said, first=False)
    said = meaning("spoken_hours", language).get(said, said)
    at = _by_figures(f"{said} {half}" if half else f"{said}")
    if at is None or not minutes:
        return at
    return None if at.minute else (datetime.combine(date.min, at) + timedelta(minutes=int(minutes))).time()


def _spoken(table: Mapping[str, str], said: str, *, first: bool) -> tuple[str | int | None, str]:
    """What the words at one end stand for, and the others; ``None`` where they stand for nothing."""
    for words, value in sorted(table.items(), key=lambda row: -len(row[0])):
        if first and said.startswith(f"{words} "):
            return value, said[len(words) + 1 :]
        if not first and re.search(rf"(?:\s|\d){re.escape(words)}$", said):
            return value, said[: -len(words)].strip()
    return None, said


def _by_figures(said: str) -> time | None:
    found = _HOUR.fullmatch(said)
    if found is None:
        return None
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    half = (found["half"] or "")[:1]
    if half and not 1 <= hour <= 12:
        return None
    hour = hour % 12 + 12 * (half == "p") if half else hour
    return time(hour, minute) if hour < 24 and minute < 60 else None
