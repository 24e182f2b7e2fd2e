"""What a message says did not happen: "Mole was not watered on Thursday", "didn't feed Ink"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, Earlier
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def denied_in(message: Message, frames: Sequence[Frame]) -> Earlier | None:
    """The entry that would be wrong by what a message denies; ``None`` where it denies nothing of anybody."""
    for frame in frames:
        if frame.flags.isdisjoint(_DENIES) or not frame.flags.isdisjoint(_OPEN):
            continue
        refs = [ref for ref in frame.refs if ref.sure and len(ref.tags) < len(message.names.specimens)]
        kinds = _kinds(frame)
        if not refs or not kinds:
            continue
        days = {day for span in frame.days for day in span.may_be()}
        return Earlier(
            specimens=message.names.in_order(t for r in refs for t in r.tags),
            kinds=tuple(kind for kind in Kind if kind in kinds),
            days=tuple(sorted(days)),
        )
    return None


def denied_alone(message: Message, part: range) -> Earlier | None:
    """ "Wait, Ink didn't": what is on record of today for those named, where nothing more is said."""
    said = [i for i in message.items([part]) if i.cat != "M" and {"fill", "and"}.isdisjoint(i.senses)]
    named = [i for i in said if i.cat == "S" and len(i.val.tags) < len(message.names.specimens)]
    if not named or said[:-1] != named or _DENIES.isdisjoint(said[-1].senses):
        return None
    tags = message.names.in_order(tag for i in named for tag in i.val.tags)
    return Earlier(specimens=tags, days=(message.today,))


_DENIES = frozenset({"neg", "undone"})
#: What makes a denial one of something to come, or of nothing sure.
_OPEN = frozenset({"future", "cond", "report", "habit", "hedge"})


def _kinds(frame: Frame) -> set[Kind]:
    groups = [verb.group for _, i in frame.verbs for verb in i.senses.verbs]
    strong = {group.kind for group in groups if group.kind and not group.weak}
    kinds = strong or {group.kind for group in groups if group.kind}
    if "water" in frame.nouns:
        kinds = {Kind.WATERED}
    if Kind.FED in kinds:
        kinds |= FEEDING - {Kind.REFUSED}
    return {kind for kind in kinds if kind is not None}


def doubts_itself(frame: Frame) -> bool:
    """ "…, or at least I'm assuming so": a hedge on what was told, before anything else is named."""
    items = frame.clause.items
    hedge = next((n for n, i in enumerate(items) if "hedge" in i.senses), 0)
    named = any(i.cat in "SXDNA" or "prey" in i.senses for i in items[:hedge])
    return items[0].text in _OR and hedge > 0 and not named and not _or_whom(items[hedge + 1 :])


_OR: Final = rule_words("or")


def _or_whom(behind: Sequence[Item]) -> bool:
    """ "or maybe Biscuit": another animal, prey or number, and no further doubt of the whole."""
    return bool(behind) and (
        behind[0].cat in "SXDNA" or not {"prey", "size", "a"}.isdisjoint(behind[0].senses)
    )
