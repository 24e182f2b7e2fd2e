"""What a message says the feeder box holds or lost: "about 40 small crickets left in the box". Pure.

The words around it are data (``box_counts``, ``box_empty`` and ``box_lost`` in
``lexicon/<language>/instructions.yaml``); what was counted is read as a purchase of so many would be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Final

from bot.reading.model import ReadingKind
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.read import read
from bot.reading.words.phrasings import Phrasings, bare, data, fitting, own_data
from bot.reading.words.rule_words import rule_pattern
from bot.terms import Entry, KeeperSettings, Kind, day_at

#: What was counted or lost, as a number of it: none left is read as one bought.
_COUNTED: Final = {"box_empty": "1 {}", "box_counts": "{}"}
_LOST: Final = {"box_lost": "{}"}
_OF_THE: Final = re.compile(rf"(?<!\w)(?:{rule_pattern('of_the')}) ", re.I)


def counted_in(text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> tuple[Entry, ...]:
    """The counts of the box that a message tells, none where it tells none, or not surely of what."""
    for key, bought in _sorts_in(text, _COUNTED, names, now, settings):
        return tuple(_as_count(one, none_left=key == "box_empty") for one in bought)
    return ()


def lost_in(text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> tuple[Entry, ...]:
    """The feeders that a message tells as lost, "50 of the crickets died", as a count of each sort."""
    for _, bought in _sorts_in(text, _LOST, names, now, settings):
        return tuple(_as_count(one, none_left=False) for one in bought)
    return ()


def _sorts_in(
    text: str, as_number: Mapping[str, str], names: ShelfNames, now: datetime, settings: KeeperSettings
) -> Iterator[tuple[str, tuple[Entry, ...]]]:
    """The phrasings that fit a message, each with the feeders it tells of."""
    words = bare(text, language=settings.language)
    for key, found in fitting(words, settings.language, _phrasings):
        if key not in as_number:
            continue
        bought = _bought(as_number[key].format(_OF_THE.sub("", found["stock"])), names, now, settings)
        if bought:
            yield key, bought


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
def _phrasings(language: str) -> Phrasings[str]:
    own = own_data(language)
    return Phrasings(((key, phrase) for key in (*_COUNTED, *_LOST) for phrase in own.get(key, ())), {})
