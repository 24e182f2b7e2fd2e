"""An animal that is to be sold or given away on a day to come: "selling Rust on Saturday". Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime
from functools import cache

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.away import away_data, days_ahead
from bot.reading.wanted.how_often import animals_said
from bot.reading.words.phrasings import Phrasings, all_alike, bare, either
from bot.terms import KeeperSettings

_LONGEST = 160


def read_leaving(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings
) -> tuple[tuple[str, ...], date] | None:
    """Who is to leave, and on which day to come; ``None`` where a message says anything else."""
    if text.rstrip().endswith("?") or len(text) > _LONGEST:
        return None
    words = bare(text)
    for _, found in _phrasings().fitting(words):
        for who, when in _cuts(found.groupdict()):
            tags = animals_said(who, names)
            days = days_ahead(when, now=now, settings=settings) if tags else None
            if days is not None and days.first is not None and days.last is None and days.sure:
                ahead = days.first > settings.day_of(now)
                return (tags, days.first) if ahead else None
    return None


def _cuts(slots: dict[str, str | None]) -> Iterator[tuple[str, str]]:
    """The words for the animals and for the day; what stands between them, as to whom, is left out."""
    said = slots.get("who_when")
    pairs = [(slots.get("who") or "", slots.get("when") or "")]
    if said:
        pairs = [(said[: space.start()], said[space.end() :]) for space in re.finditer(r"\s+", said)]
    for who, when in pairs:
        yield who, when
        parts = _to().split(when, maxsplit=1)
        if len(parts) > 1 and not parts[0].strip():
            buyer = parts[1].split(" ", 1)
            yield who, buyer[1] if len(buyer) > 1 else ""


@cache
def _phrasings() -> Phrasings[None]:
    return all_alike(away_data()["leaves"])


@cache
def _to() -> re.Pattern[str]:
    return re.compile(rf"^(?:{either(away_data()['leaves_to'])})\s+", re.I)
