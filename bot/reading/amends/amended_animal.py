"""Whether a correction by one word, a feeder and a name of the shelf, is of the animal: "era Polilla"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from bot.reading.items.item import Item, Ref
from bot.reading.items.refs import ref_of
from bot.reading.message.parse import Message
from bot.reading.model import About, Amend, Ask, Option, Reading, ReadingKind
from bot.reading.names.shelf_names import EXACT


def animal_or_prey(
    message: Message, said: Sequence[Item], affirmed: Sequence[Item], changes: dict[str, Any]
) -> Reading | None:
    """The animal put in another's place, a question where prey may be meant; ``None`` for no name."""
    if "prey" not in changes or "specimens" in changes:
        return None
    words = [n for n, item in enumerate(affirmed) if "prey" in item.senses]
    whom = _named_by(message, affirmed, words[0]) if len(words) == 1 else None
    if whom is None:
        return None
    denied = [item for item in said if item not in affirmed]
    if any(item.cat in "SX" for item in denied):
        return _of_them(whom.tags)
    instead_of_prey = any("prey" in item.senses and not _may_name(message, item) for item in denied)
    return None if instead_of_prey else _asked(whom, changes)


def _named_by(message: Message, items: Sequence[Item], at: int) -> Ref | None:
    """The animal that a word for prey is the whole name of; no "una polilla", no "2 polillas"."""
    before = items[at - 1] if at else None
    if before is not None and (before.cat == "N" or not _COUNTS.isdisjoint(before.senses)):
        return None
    return _may_name(message, items[at])


def _may_name(message: Message, item: Item) -> Ref | None:
    span = next((s for s in message.names_over(item.i) if (s.i, s.j) == (item.i, item.j)), None)
    if span is None or not all(h.how in EXACT and not h.plural for h in span.hits):
        return None
    ref = ref_of(span, item.text, message.names)
    return ref if ref.sure else None


_COUNTS: Final = frozenset({"a", "some", "size", "prekilled"})


def _of_them(tags: tuple[str, ...]) -> Reading:
    return Reading(reading=ReadingKind.AMEND, amend=Amend(action="change", changes={"specimens": tags}))


def _asked(whom: Ref, changes: dict[str, Any]) -> Reading:
    options = tuple(Option(value=tag, reading=_of_them((tag,))) for tag in whom.tags)
    ask = Ask(
        about=About.SPECIMEN, doubt="name_or_word", words=whom.words, choices=whom.tags, options=options
    )
    return Reading(reading=ReadingKind.ASK, ask=ask)
