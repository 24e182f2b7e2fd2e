"""A doubt about what a reading says of this shelf, and the ways out of it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from bot.conversation import wording
from bot.conversation.turn import Turn
from bot.reading.model import Reading
from bot.terms import Entry, Kind
from storage.records import JournalEntry


@dataclass(frozen=True, slots=True)
class Way:
    """One way out of a doubt: its label, the reading that is stored if it is taken, and the word for it.

    ``word`` is ``yes`` or ``no`` where that may be typed for it. ``instead`` are entries on record in whose
    place the reading is stored.
    """

    label: str
    reading: Reading
    word: str | None = None
    instead: tuple[JournalEntry, ...] = ()


@dataclass(frozen=True, slots=True)
class Doubt:
    """One question before anything is stored. ``key`` marks it as answered; no ways: a plain refusal.

    ``wrong`` is an entry on record that may be the mistake, and can be taken back by a button.
    """

    key: str
    text: str
    ways: tuple[Way, ...] = ()
    wrong: JournalEntry | None = None


Check = Callable[[Turn, Reading, Collection[int]], Doubt | None]


def each(reading: Reading, *kinds: Kind) -> Iterator[tuple[Entry, str]]:
    """Every animal of the entries of some kinds, with its entry."""
    for entry in reading.entries:
        if entry.kind in kinds:
            for tag in entry.specimens:
                yield entry, tag


def without(reading: Reading, kind: Kind, tags: Collection[str]) -> Reading:
    """The reading without these animals in its entries of that kind."""
    kept: list[Entry] = []
    for entry in reading.entries:
        if entry.kind is not kind or not entry.specimens:
            kept.append(entry)
            continue
        rest = tuple(tag for tag in entry.specimens if tag not in tags)
        if rest:
            kept.append(replace(entry, specimens=rest))
    return replace(reading, entries=tuple(kept))


def names_of(turn: Turn, tags: Iterable[str]) -> str:
    """A few animals by name, the others counted."""
    return wording.called(turn.animals(tags), most=4)
