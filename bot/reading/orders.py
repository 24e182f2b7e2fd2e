"""What the keeper asks of the bot: to be told later, and feeding prompts to pause or go on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, Final

from bot.reading.items import Item, Ref
from bot.reading.model import About, Ask, Hold, Option, Reading, ReadingKind, Reminder
from bot.reading.parse import Message

#: Bare verbs that are said of animals as well, but at a message's beginning are the keeper's work.
_BARE: Final = frozenset({"feed"})
_CLAUSE_ENDS: Final = frozenset(",;.!?\n")


def order_in(message: Message) -> tuple[range, Reading] | None:
    """The order a message gives and the tokens it takes up; the rest is read as any message."""
    at = message.cue_at("remind")
    if at is not None:
        part = _stretch(message, at)
        if at and any(s.cat == "neg" for s in message.lexicon.account.senses(message.keys[at - 1])):
            return part, _hold(message, part, "hold")
        return part, _reminder(message, part, at)
    for cat, state in (("resume", "resume"), ("hold", "hold")):
        at = message.cue_at(cat)
        if at is not None:
            part = _stretch(message, at)
            if _tells_of_none(message, at, part):
                continue
            return part, _hold(message, part, state)
    return _unbidden(message)


def _unbidden(message: Message) -> tuple[range, Reading] | None:
    """ "mist D every 3 days", "check the sac on 3 June at 8": work to come, with nobody asked to remind."""
    first = message.first_word(range(len(message.tokens)))
    if first is None or not _is_work(message, first):
        return None
    part = _stretch(message, first)
    if part.start != 0 or message.tokens[-1].text == "?":
        return None
    items = message.items([part], "future")
    ahead = any(_is_ahead(i.val, message) for i in items if i.cat == "D")
    again = any(i.val.every_days and not i.val.doubt for i in items if i.cat == "P")
    return (part, _reminder(message, part, None)) if ahead or again else None


def _is_ahead(span: Any, message: Message) -> bool:
    """Whether a day is surely to come, or a time of today."""
    if span.day is None or span.doubt:
        return False
    today, later = message.now.date(), span.time is not None and span.time > message.now.time()
    return bool(span.day > today or (span.day == today and later))


def _is_work(message: Message, at: int) -> bool:
    """Whether a bare verb of the keeper's work stands there: "check", "mist", "feed"."""
    senses = message.lexicon.account.senses(message.keys[at])
    return any(s.cat == "verb" and s.group.base and (s.group.keeper or s.words in _BARE) for s in senses)


def _stretch(message: Message, at: int) -> range:
    """The tokens of an order: from its clause's start to its sentence's end."""
    start = at
    while start > 0 and message.tokens[start - 1].text not in _CLAUSE_ENDS:
        start -= 1
    start = _after_what_happened(message, start, at)
    end = at
    while end < len(message.tokens) and not message.ends_sentence(end):
        end += 1
    if end < len(message.tokens) and "." in message.tokens[end - 1].text:
        end += 1  # "until 1.6."
    return range(start, end)


def _tells_of_none(message: Message, at: int, part: range) -> bool:
    """ "twig no food again": "no food" with no word of until when tells, and asks for nothing."""
    senses = message.lexicon.account.senses(message.keys[at])
    short = message.cues[at][0] - at == len(("no", "food")) and any(s.cat == "no" for s in senses)
    return short and not any(i.cat in "PD" for i in message.items([part], "future"))


def _after_what_happened(message: Message, start: int, at: int) -> int:
    """ "Ink molted so no feeding for 10 days": the order begins behind what is told before it."""
    joints = (t for t in range(at - 1, start, -1) if _joint(message, t))
    told = (t for t in joints if _tells(message, range(start, t)))
    return next(told, start)


def _joint(message: Message, at: int) -> bool:
    senses = message.lexicon.account.senses(message.keys[at])
    return any(s.cat in {"so", "and", "then"} for s in senses)


def _tells(message: Message, part: range) -> bool:
    verbs = [i.senses["verb"] for i in message.items([part]) if "verb" in i.senses]
    return any(not (verb.group.base or verb.group.weak) for verb in verbs)


def _animals(message: Message, items: Sequence[Item], part: range, *, always: bool) -> list[Ref]:
    """The animals an order is about: named in it, or those just talked of."""
    refs = [i.val for i in items if i.cat == "S"]
    if refs or not (always or any("pron" in i.senses for i in items)):
        return refs
    if part.start > 0:
        before = [i.val for i in message.items([range(part.start)]) if i.cat == "S"]
        if before:
            return before[-1:]
    return [message.talked_of] if message.talked_of is not None else []


# -- reminders ------------------------------------------------------------------------------------


def _reminder(message: Message, part: range, cue: int | None) -> Reading:
    items = message.items([part], "future")
    refs = _animals(message, items, part, always=False)
    days = [i.val for i in items if i.cat == "D"]
    periods = [i.val for i in items if i.cat == "P"]
    every = next((p.every_days for p in periods if p.every_days), None)
    for span in (*days, *periods):
        if span.doubt:
            return _about_day(
                span,
                lambda day: Reading(
                    reading=ReadingKind.REMINDER,
                    reminder=_made(message, part, cue, items, refs, day, None, every),
                ),
            )
    day = next((s.day for s in days if s.day is not None), None) or next(
        (p.until for p in periods if p.until), None
    )
    clock = next((s.time for s in (*days, *periods) if s.time is not None), None)
    unsure = next((r for r in refs if not r.sure), None)
    if unsure is not None:
        return _which(
            unsure,
            lambda tags: Reading(
                reading=ReadingKind.REMINDER,
                reminder=replace(_made(message, part, cue, items, [], day, clock, every), specimens=tags),
            ),
        )
    if day is not None and day < message.now.date():
        return _asked(About.DAY, "past_day")
    if day is None and every is None:
        if clock is None:
            return _asked(About.DAY, "no_day")
        day = message.now.date() if clock > message.now.time() else message.now.date() + timedelta(days=1)
    return Reading(
        reading=ReadingKind.REMINDER, reminder=_made(message, part, cue, items, refs, day, clock, every)
    )


def _made(
    message: Message,
    part: range,
    cue: int | None,
    items: Sequence[Item],
    refs: Sequence[Ref],
    day: date | None,
    clock: Any,
    every: int | None,
) -> Reminder:
    base = message.tokens[part.start].start
    spans = []
    if cue is not None:
        end = message.cues[cue][0] - 1
        spans.append((message.tokens[cue].start - base, message.tokens[end].end - base))
    spans += [
        (message.tokens[i.i].start - base, message.tokens[i.j - 1].end - base) for i in items if i.cat in "DP"
    ]
    what = _without(message.words(part.start, part.stop), spans)
    tags = message.names.in_order(t for r in refs for t in r.tags)
    return Reminder(what=what or "look in", specimens=tags, day=day, time=clock, every_days=every)


_ENDS: Final = re.compile(
    r"^[\s,:;.\-–]*(?:(?:and|to|that|about)\s+)?|[\s,:;.!\-–]+$|\s+(?:pls|please|thanks|ta)[.!]*$",
    re.IGNORECASE,
)


def _without(words: str, spans: Sequence[tuple[int, int]]) -> str:
    """The words of a request without its cue and its day."""
    out, at = [], 0
    for start, end in sorted(spans):
        out.append(words[at:start])
        at = max(at, end)
    out.append(words[at:])
    left, last = " ".join(" ".join(out).split()), None
    while last != left:
        last, left = left, _ENDS.sub("", left)
    return left


# -- pauses of feeding prompts --------------------------------------------------------------------


def _hold(message: Message, part: range, state: str) -> Reading:
    items = message.items([part], "future")
    refs = _animals(message, items, part, always=True)
    until: date | None = None
    for item in items:
        if item.cat == "P":
            until = item.val.until or until
            if item.val.kind == "until" and until is None and item is items[-1]:
                return _asked(About.DAY, "vague_day")
        elif item.cat == "D":
            until = item.val.day or until
        if item.cat in "PD" and item.val.doubt:
            return _about_day(item.val, lambda day: _held(message, refs, state, day))
    if until is not None and until <= message.now.date() and state == "hold":
        return _asked(About.DAY, "past_day")
    unsure = next((r for r in refs if not r.sure), None)
    if unsure is not None:
        return _which(
            unsure,
            lambda tags: Reading(
                reading=ReadingKind.HOLD, hold=Hold(specimens=tags, state=state, until=until)
            ),
        )
    if not refs:
        return _asked(About.SPECIMEN, "nobody_named")
    return _held(message, refs, state, until)


def _held(message: Message, refs: Sequence[Ref], state: str, until: date | None) -> Reading:
    tags = message.names.in_order(t for r in refs for t in r.tags)
    return Reading(
        reading=ReadingKind.HOLD,
        hold=Hold(specimens=tags, state=state, until=until if state == "hold" else None),
    )


# -- what has to be asked -------------------------------------------------------------------------


def _asked(about: About, doubt: str) -> Reading:
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=about, doubt=doubt))


def _about_day(span: Any, made: Any) -> Reading:
    options = tuple(Option(value=d.isoformat(), reading=made(d)) for d in span.options)
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.DAY, doubt=str(span.doubt), options=options))


def _which(ref: Ref, made: Any) -> Reading:
    options = tuple(Option(value=t, reading=made((t,))) for t in ref.tags)
    ask = Ask(about=About.SPECIMEN, doubt=ref.doubt, words=ref.words, choices=ref.tags, options=options)
    return Reading(reading=ReadingKind.ASK, ask=ask)
