"""What a message says the feeder box holds: "about 40 small crickets left in the box". Pure.

The words around it are data (``box_counts`` and ``box_empty`` in ``lexicon/en/instructions.yaml``); what was
counted is read as a purchase of so many would be.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Final

from bot.reading.names import ShelfNames
from bot.reading.phrasings import bare, compiled, data
from bot.reading.read import read
from bot.terms import Entry, KeeperSettings, Kind, day_at

_AS_BOUGHT: Final = "bought {}"


def counted_in(text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> Entry | None:
    """The count of the box that a message tells, or ``None`` where it tells none, or not surely of what."""
    words = bare(text)
    for key, said in (("box_empty", "1 {}"), ("box_counts", "{}")):
        for pattern in _patterns(key):
            found = pattern.fullmatch(words)
            bought = _bought(said.format(found["stock"]), names, now, settings) if found else None
            if bought is not None and bought.count is not None:
                count = bought.count if key == "box_counts" else 0
                return replace(bought, kind=Kind.COUNTED, count=count, price=None, currency=None)
    return None


def _bought(stock: str, names: ShelfNames, now: datetime, settings: KeeperSettings) -> Entry | None:
    entries = read(_AS_BOUGHT.format(stock), names, now=now, settings=settings).entries
    today = day_at(now, settings.day_starts)
    if len(entries) != 1 or entries[0].kind is not Kind.STOCKED or entries[0].day != today:
        return None
    return entries[0]


@cache
def _patterns(key: str) -> tuple[re.Pattern[str], ...]:
    return tuple(compiled(phrase, {}) for phrase in data()[key])
