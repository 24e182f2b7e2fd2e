"""A time of day said by itself, as in a setting. Pure."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from typing import Final

from bot.reading.phrasings import folded, meaning

_HOUR: Final = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{2})?)?\s*(?P<half>am|pm|a\.m\.|p\.m\.)?(?:\s*(?:o'clock|hours|h))?",
    re.I,
)
_NOON: Final = {"noon": time(12), "midday": time(12), "midnight": time(0)}


def wall_time(words: str) -> time | None:
    """A time of day: ``8``, ``7:30``, ``20.15``, ``8 pm``, ``half seven``, ``noon``; else ``None``.

    A spoken hour of which no half of the day is said is of the morning.
    """
    said = folded(words)
    if said in _NOON:
        return _NOON[said]
    minutes, said = _spoken("spoken_minutes", said, first=True)
    half, said = _spoken("spoken_halves", said, first=False)
    said = meaning("spoken_hours").get(said, said)
    at = _by_figures(f"{said} {half}" if half else f"{said}")
    if at is None or not minutes:
        return at
    return None if at.minute else (datetime.combine(date.min, at) + timedelta(minutes=int(minutes))).time()


def _spoken(table: str, said: str, *, first: bool) -> tuple[str | int | None, str]:
    """What the words at one end stand for, and the others; ``None`` where they stand for nothing."""
    for words, value in sorted(meaning(table).items(), key=lambda row: -len(row[0])):
        if first and said.startswith(f"{words} "):
            return value, said[len(words) + 1 :]
        if not first and said.endswith(f" {words}"):
            return value, said[: -len(words) - 1]
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
