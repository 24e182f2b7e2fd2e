"""What orders of every sort are made with: the animals meant, and what is asked where one is not clear."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.reading.items import Item, Ref
from bot.reading.model import About, Ask, Option, Reading, ReadingKind
from bot.reading.parse import Message


def animals(message: Message, items: Sequence[Item], part: range, *, always: bool) -> list[Ref]:
    """The animals an order is about: named in it, or those just talked of."""
    refs = [i.val for i in items if i.cat == "S"]
    if refs or not (always or any("pron" in i.senses for i in items)):
        return refs
    if part.start > 0:
        before = [i.val for i in message.items([range(part.start)]) if i.cat == "S"]
        if before:
            return before[-1:]
    return [message.talked_of] if message.talked_of is not None else []


def asked(about: About, doubt: str) -> Reading:
    """A question without answers to choose from."""
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=about, doubt=doubt))


def about_day(span: Any, made: Any) -> Reading:
    """Which day of a doubtful span is meant, or which half of it; ``made`` reads a day and a time."""
    times = tuple(Option(value=f"{t:%H:%M}", reading=made(span.day, t)) for t in getattr(span, "times", ()))
    options = times or tuple(Option(value=d.isoformat(), reading=made(d, None)) for d in span.options)
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.DAY, doubt=str(span.doubt), options=options))


def which(ref: Ref, made: Any) -> Reading:
    """Which animal is meant; ``made`` gives the reading for the tags of each."""
    options = tuple(Option(value=t, reading=made((t,))) for t in ref.tags)
    ask = Ask(about=About.SPECIMEN, doubt=ref.doubt, words=ref.words, choices=ref.tags, options=options)
    return Reading(reading=ReadingKind.ASK, ask=ask)
