"""What the keeper asks of the bot: to be told later, and feeding prompts to pause or go on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, Final

from bot.reading.days import find_days
from bot.reading.items import Item, Ref
from bot.reading.model import About, Ask, Hold, Option, Reading, ReadingKind, Reminder
from bot.reading.parse import Message
from bot.reading.recurrences import counts_from_done, repeats_in
from bot.reading.scan import Words

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
    if first is None or message.tokens[-1].text == "?":
        return None
    part = _stretch(message, first)
    if part.start != 0:
        return None
    if not _is_work(message, first):
        return (
            (part, _reminder(message, part, None)) if _comes_by_the_calendar(message, first, part) else None
        )
    items = message.items([part], "future")
    ahead = any(_is_ahead(i.val, message) for i in items if i.cat == "D")
    again = any(i.val.every_days and not i.val.doubt for i in items if i.cat == "P")
    again = again or repeats_in(message.words(part.start, part.stop), message.settings.language) is not None
    return (part, _reminder(message, part, None)) if ahead or again else None


def _comes_by_the_calendar(message: Message, first: int, part: range) -> bool:
    """ "renew the permit every year on 3 June": work in whatever words, if nobody of the shelf does it."""
    if repeats_in(message.words(part.start, part.stop), message.settings.language) is None:
        return False
    items = message.items([part])
    opens = next((i for i in items if i.i <= first < i.j), None)
    verbs = [s.group for i in items for c, s in i.senses.items() if c.startswith("verb")]
    told = any(not (group.base or group.weak or group.noun) for group in verbs)
    return opens is not None and opens.cat in "UW" and not told and _NOT_WORK.isdisjoint(opens.senses)


#: Words that begin an account or a wish rather than a piece of work: "I feed them …", "every Monday …".
_NOT_WORK: Final = frozenset({"self", "pron", "all", "neg", "did", "future", "on", "and", "but"})


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


class _Rhythm:
    """How a reminder comes again, and the places of the words that say so within its part's text."""

    def __init__(self, message: Message, part: range) -> None:
        text, language = message.words(part.start, part.stop), message.settings.language
        found, done = repeats_in(text, language), counts_from_done(text, language)
        self._base = message.tokens[part.start].start
        self._tokens = message.tokens
        self.rule = found.rule if found is not None else None
        self.from_done = done is not None
        self.every: int | None = None
        self.places = [found[:2] for found in (found,) if found is not None]
        if done is not None:
            self.places.append(done)

    @property
    def once(self) -> bool:
        return self.rule is None and self.every is None

    def other_than_it(self, items: Sequence[Item]) -> list[Item]:
        """The items without the days and numbers that belong to the rhythm."""
        return [i for i in items if not any(self._within(i, start, end) for start, end in self.places)]

    def _within(self, item: Item, start: int, end: int) -> bool:
        first = self._tokens[item.i].start - self._base
        return start <= first < end


def _reminder(message: Message, part: range, cue: int | None) -> Reading:
    rhythm = _Rhythm(message, part)
    items = rhythm.other_than_it(message.items([part], "future"))
    refs = _animals(message, items, part, always=False)
    days = [i.val for i in items if i.cat == "D"]
    periods = [i.val for i in items if i.cat == "P"]
    rhythm.every = next((p.every_days for p in periods if p.every_days), None)
    for span in (*days, *periods):
        if span.doubt:
            return _about_day(
                span,
                lambda day: Reading(
                    reading=ReadingKind.REMINDER,
                    reminder=_made(message, part, cue, items, refs, day, None, rhythm),
                ),
            )
    day = next((s.day for s in days if s.day is not None), None) or next(
        (p.until for p in periods if p.until), None
    )
    clock = next((s.time for s in (*days, *periods) if s.time is not None), None)
    if rhythm.rule is not None and day == message.now.date():
        day, clock = (
            None,
            _of_any_day(message, items),
        )  # a time alone is read as today's; the rule says the day
    unsure = next((r for r in refs if not r.sure), None)
    if unsure is not None:
        return _which(
            unsure,
            lambda tags: Reading(
                reading=ReadingKind.REMINDER,
                reminder=replace(_made(message, part, cue, items, [], day, clock, rhythm), specimens=tags),
            ),
        )
    if day is not None and day < message.now.date():
        return _asked(About.DAY, "past_day")
    if day is None and rhythm.once:
        if clock is None:
            return _asked(About.DAY, "no_day")
        day = message.now.date() if clock > message.now.time() else message.now.date() + timedelta(days=1)
    return Reading(
        reading=ReadingKind.REMINDER, reminder=_made(message, part, cue, items, refs, day, clock, rhythm)
    )


def _of_any_day(message: Message, items: Sequence[Item]) -> Any:
    """The wall time of a reminder that comes on other days than this one."""
    words = " ".join(i.text for i in items if i.cat == "D")
    spans = find_days(
        Words(words),
        now=message.now.replace(hour=23, minute=59),
        order=message.settings.date_order,
        language=message.settings.language,
        facing="future",
    )
    return next((s.time for s in spans if s.time is not None), None)


def _made(
    message: Message,
    part: range,
    cue: int | None,
    items: Sequence[Item],
    refs: Sequence[Ref],
    day: date | None,
    clock: Any,
    rhythm: _Rhythm,
) -> Reminder:
    base = message.tokens[part.start].start
    spans = list(rhythm.places)
    if cue is not None:
        end = message.cues[cue][0] - 1
        spans.append((message.tokens[cue].start - base, message.tokens[end].end - base))
    spans += [
        (message.tokens[i.i].start - base, message.tokens[i.j - 1].end - base) for i in items if i.cat in "DP"
    ]
    what = _without(message.words(part.start, part.stop), spans)
    tags = message.names.in_order(t for r in refs for t in r.tags)
    return Reminder(
        what=what or "look in",
        specimens=tags,
        day=day,
        time=clock,
        every_days=rhythm.every,
        rule=rhythm.rule,
        from_done=rhythm.from_done and not rhythm.once,
    )


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
