"""What a message says the feeder box holds: "about 40 small crickets left in the box". Pure.

The words around it are data (``box_counts`` and ``box_empty`` in ``lexicon/<language>/instructions.yaml``);
what was counted is read as a purchase of so many would be.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Final

from bot.reading.model import ReadingKind
from bot.reading.names import ShelfNames
from bot.reading.phrasings import bare, compiled, data, of_language, own_data
from bot.reading.read import read
from bot.terms import Entry, KeeperSettings, Kind, day_at

#: What was counted, as a number of it: none left is read as one bought.
_COUNTED: Final = {"box_empty": "1 {}", "box_counts": "{}"}


def counted_in(text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> tuple[Entry, ...]:
    """The counts of the box that a message tells, none where it tells none, or not surely of what."""
    words = bare(text, language=settings.language)
    for key, pattern in of_language(settings.language, _patterns):
        found = pattern.fullmatch(words)
        bought = _bought(_COUNTED[key].format(found["stock"]), names, now, settings) if found else ()
        if bought:
            return tuple(_as_count(one, none_left=key == "box_empty") for one in bought)
    return ()


def _as_count(bought: Entry, *, none_left: bool) -> Entry:
    count = 0 if none_left else bought.count
    return replace(bought, kind=Kind.COUNTED, count=count, price=None, currency=None)


def _bought(stock: str, names: ShelfNames, now: datetime, settings: KeeperSettings) -> tuple[Entry, ...]:
    """The purchases that the words would be, each with a number, of today and of nothing else; else none."""
    said = str(data(settings.language)["as_bought"]).format(stock)
    reading = read(said, names, now=now, settings=settings)
    today = day_at(now, settings.day_starts)
    sure = reading.reading is ReadingKind.ENTRIES and all(
        one.kind is Kind.STOCKED and one.day == today and one.count is not None for one in reading.entries
    )
    return reading.entries if sure else ()


@cache
def _patterns(language: str) -> tuple[tuple[str, re.Pattern[str]], ...]:
    own = own_data(language)
    return tuple((key, compiled(phrase, {})) for key in _COUNTED for phrase in own.get(key, ()))
