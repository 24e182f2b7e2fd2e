"""Labelled keeper messages, and how near a reading comes to its label.

A message is judged by animal, so that it does not matter how entries are grouped. ``wrong`` is the one
unforgivable class: something would be stored, or taken back, that the message does not say.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import IntEnum
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from bot.reading import ShelfNames, read, reading_to_json
from bot.terms import KeeperSettings
from bot.terms.shelf_file import shelf_from_json

FOLDER = Path(__file__).parents[1] / "corpus"
_STORES = {"entries", "amend", "hold", "reminder"}
_IN_OWN_WORDS = {"note", "what", "from", "to"}


class Verdict(IntEnum):
    """From best to worst."""

    EXACT = 0
    LOSSY = 1
    CAUTIOUS = 2
    MISSED = 3
    WRONG = 4


@dataclass(frozen=True)
class Labelled:
    """One message with the readings it may have."""

    name: str
    text: str
    now: datetime
    golds: tuple[Mapping[str, Any], ...]


@dataclass(frozen=True)
class Corpus:
    """A shelf and the labelled messages about it."""

    settings: KeeperSettings
    names: ShelfNames
    messages: tuple[Labelled, ...]

    def readings(self) -> Iterator[tuple[Labelled, dict[str, Any]]]:
        """Each message with its reading as the reading contract's JSON."""
        for message in self.messages:
            reading = read(message.text, self.names, now=message.now, settings=self.settings)
            yield message, reading_to_json(reading)


@cache
def corpus(folder: str) -> Corpus:
    """The corpus in a folder of ``tests/corpus``, loaded once."""
    settings, specimens = shelf_from_json(json.loads((FOLDER / folder / "shelf.json").read_text("utf-8")))
    zone = ZoneInfo(settings.zone)
    lines = (FOLDER / folder / "messages.jsonl").read_text("utf-8").splitlines()
    messages = tuple(
        Labelled(
            raw["id"],
            raw["text"],
            datetime.fromisoformat(raw["now"]).replace(tzinfo=zone),
            (raw["gold"], *raw.get("also", [])),
        )
        for raw in map(json.loads, filter(str.strip, lines))
    )
    return Corpus(settings, ShelfNames.of(specimens), messages)


def judged(message: Labelled, got: Mapping[str, Any]) -> Verdict:
    """How near a reading comes to the nearest label."""
    return min(_compare(got, gold) for gold in message.golds)


def _compare(got: Mapping[str, Any], want: Mapping[str, Any]) -> Verdict:
    kind = got["reading"]
    if kind != want["reading"]:
        if kind in _STORES:
            return Verdict.WRONG
        return Verdict.CAUTIOUS if kind in {"ask", "unclear"} else Verdict.MISSED
    if kind == "unclear":
        return Verdict.EXACT
    if kind == "entries":
        return max(
            _entries(got, want), *(_second(got.get(k), want.get(k)) for k in ("reminder", "hold", "question"))
        )
    if kind == "ask":
        return _asked(got["ask"], want["ask"])
    verdict = _fields(_said(got[kind]), _said(want[kind]))
    return Verdict.MISSED if kind == "question" and verdict is not Verdict.EXACT else verdict


def _asked(got: Mapping[str, Any], want: Mapping[str, Any]) -> Verdict:
    offers = set(got.get("choices") or ()) >= set(want.get("choices") or ())
    return Verdict.EXACT if got["about"] == want["about"] and offers else Verdict.MISSED


def _second(got: Any, want: Any) -> Verdict:
    if got is None or want is None:
        return Verdict.EXACT if got is want else Verdict.LOSSY if got is None else Verdict.WRONG
    return _fields(_said(got), _said(want))


def _entries(got: Mapping[str, Any], want: Mapping[str, Any]) -> Verdict:
    left, verdict = _for_each_animal(got), Verdict.EXACT
    for target in _for_each_animal(want):
        best = min(left, key=lambda entry: _fields(entry, target), default=None)
        if best is None or _fields(best, target) is Verdict.WRONG:
            rival = any(e["kind"] == target["kind"] and e["specimen"] == target["specimen"] for e in left)
            verdict = max(verdict, Verdict.WRONG if rival else Verdict.LOSSY)
            continue
        verdict = max(verdict, _fields(best, target))
        left.remove(best)
    return Verdict.WRONG if any(entry["kind"] != "note" for entry in left) else verdict


def _for_each_animal(reading: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [
        {**{k: v for k, v in entry.items() if k != "specimens"}, "specimen": tag}
        for entry in reading["entries"]
        for tag in entry["specimens"] or [None]
    ]


def _fields(got: Mapping[str, Any], want: Mapping[str, Any]) -> Verdict:
    verdict = Verdict.EXACT
    for key in {*got, *want} - {"prekilled"}:
        if key in _IN_OWN_WORDS or key not in got:
            verdict = verdict if key in got or key not in want else Verdict.LOSSY
        elif key not in want or not _same(got[key], want[key]):
            return Verdict.WRONG
    return verdict


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= max(0.011, 0.006 * abs(other))
    if isinstance(one, str) and isinstance(other, str):
        return one.casefold() == other.casefold()
    return bool(one == other)


def _said(values: Mapping[str, Any]) -> dict[str, Any]:
    return {k: sorted(v) if isinstance(v, list) else v for k, v in values.items() if v not in (None, [], "")}
