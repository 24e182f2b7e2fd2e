"""Reminders that a message asks for: once, every so many days, or by the calendar; of work to come."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from itertools import chain
from typing import Any, Final

from bot.reading.days import Moment, find_days
from bot.reading.days.recurrences import counts_from_done, repeats_in
from bot.reading.items.item import Item, Ref
from bot.reading.message.animals_meant import about_day, animals, asked, named_in, order_items, which
from bot.reading.message.parse import Message
from bot.reading.model import About, Ask, Reading, ReadingKind, Reminder
from bot.reading.words.phrasings import own_data, word_set
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words
from bot.terms import Kind

#: Bare verbs that are said of animals as well, but at a message's beginning are the keeper's work.
_BARE: Final = rule_words("feed")


def may_be_work(message: Message, first: int) -> bool:
    """Whether a message that begins so could be work to come: most are not, and are not looked at further."""
    return _is_work(message, first) or repeats_in(message.scanned, message.settings.language) is not None


def unbidden(message: Message, first: int, part: range) -> Reading | None:
    """ "mist D every 3 days", "check the sac on 3 June at 8": work to come, with nobody asked to remind.

    ``first`` is the message's first word, ``part`` the order that it would begin.
    """
    language = message.settings.language
    by_calendar = repeats_in(Words(message.words(part.start, part.stop)), language) is not None
    if _is_work(message, first):
        meant = by_calendar or (_is_to_come(message, part) and not _is_a_list(message, first, part))
    else:
        meant = by_calendar and _is_work_in_other_words(message, first, part)
    return reminder(message, part, None) if meant else None


def _is_a_list(message: Message, first: int, part: range) -> bool:
    """ "water: Ink mon, Mole tues": a heading over what was done, or animals each with a day of their own.

    A reminder has one moment; those who list days keep a record.
    """
    items = message.items([part])
    named = [i.val for i in items if i.cat == "D" and i.val.rule in _BARE_WEEKDAY]
    heads = part.stop > first + 1 and message.tokens[first + 1].text == ":"
    return bool(named) and (heads or len({span.day for span in named}) > 1)


#: How a weekday is said that may be the last one as well as the next.
_BARE_WEEKDAY: Final = frozenset({"a weekday alone", "a short weekday alone", "on a weekday", "of a weekday"})


def _is_to_come(message: Message, part: range) -> bool:
    """Whether a day ahead or an interval is said."""
    items = message.items([part], "future")
    return any(_is_ahead(i.val, message) for i in items if i.cat == "D") or any(
        i.val.every_days and not i.val.doubt for i in items if i.cat == "P"
    )


def _is_work_in_other_words(message: Message, first: int, part: range) -> bool:
    """ "renew the permit every year on 3 June": work in whatever words, if nobody of the shelf does it."""
    items = message.items([part])
    opens = next((i for i in items if i.i <= first < i.j), None)
    verbs = [verb.group for i in items for verb in i.senses.verbs]
    told = any(not (group.base or group.weak or group.noun) for group in verbs)
    return opens is not None and opens.cat in "UW" and not told and _NOT_WORK.isdisjoint(opens.senses)


#: Words that begin an account or a wish rather than a piece of work: "I feed them …", "every Monday …".
_NOT_WORK: Final = frozenset({"self", "pron", "all", "neg", "did", "future", "on", "and", "but"})


def _is_ahead(span: Any, message: Message) -> bool:
    """Whether a day is surely to come, or a time of today."""
    if span.day is None or span.doubt:
        return False
    today, later = message.today, span.time is not None and span.time > message.now.time()
    return bool(span.day > today or (span.day == today and later))


def _is_work(message: Message, at: int) -> bool:
    """Whether a bare verb of the keeper's work stands there: "check", "mist", "feed"."""
    senses = message.senses(at)
    return any(s.cat == "verb" and s.group.base and (s.group.keeper or s.words in _BARE) for s in senses)


#: The doubt about a time of today that has just passed; of no matter where the thing comes again.
_JUST_GONE: Final = "earlier_than_now"


@dataclass(frozen=True, slots=True)
class _Rhythm:
    """How a reminder comes again; ``places`` are those of the words that say so in its part's text."""

    rule: str | None
    from_done: bool
    places: tuple[tuple[int, int], ...]
    every: int | None = None

    @property
    def once(self) -> bool:
        return self.rule is None and self.every is None


def _rhythm(message: Message, part: range) -> _Rhythm:
    """The rhythm but for an interval in days, which is one of the part's items."""
    text, language = message.words(part.start, part.stop), message.settings.language
    found, done = repeats_in(Words(text), language), counts_from_done(text, language)
    places = ((found.start, found.end) if found is not None else None, done)
    return _Rhythm(
        rule=found.rule if found is not None else None,
        from_done=done is not None,
        places=tuple(place for place in places if place is not None),
    )


def _beside(rhythm: _Rhythm, message: Message, part: range) -> list[Item]:
    """The part's items without the days and numbers that belong to the rhythm."""
    base = message.tokens[part.start].start
    return [
        item
        for item in order_items(message, part, dated=rhythm.once)
        if not any(start <= message.tokens[item.i].start - base < end for start, end in rhythm.places)
    ]


def reminder(message: Message, part: range, cue: int | None) -> Reading:
    """The reminder that a part of the message asks for; ``cue`` is the place of "remind me", if it stands."""
    rhythm = _rhythm(message, part)
    items = _beside(rhythm, message, part)
    refs = animals(message, items, part, always=False) or _those_told_of(message, items, part, cue)
    days = _of_the_month([i.val for i in items if i.cat == "D"])
    periods = [i.val for i in items if i.cat == "P"]
    rhythm = replace(rhythm, every=next((p.every_days for p in periods if p.every_days), None))
    for span in (*days, *periods):
        if span.doubt and not (span.doubt == _JUST_GONE and not rhythm.once):
            return about_day(
                span,
                lambda day, clock: Reading(
                    reading=ReadingKind.REMINDER,
                    reminder=_made(message, part, cue, items, refs, day, clock, rhythm),
                ),
            )
    said = (s.day for s in days if s.day is not None and not s.implied)
    implied = (s.day for s in days if s.day is not None)
    day = next(chain(said, (p.until for p in periods if p.until), implied), None)
    clock = next((s.time for s in (*days, *periods) if s.time is not None), None)
    if clock is None and not rhythm.once:
        clock, rhythm = _clock_beside(rhythm, message, part, items)
    alone = all(s.implied for s in days)
    if not rhythm.once and alone and days and day in {s.day for s in days}:
        # a time alone is read as today's or tomorrow's; the rhythm says the day
        day = None
        clock, rhythm = _clock_beside(rhythm, message, part, items)
    day = day or next((p.day for p in periods if p.kind == "every" and p.day is not None), None)
    unsure = next((r for r in refs if not r.sure), None)
    if unsure is not None:
        return which(
            unsure,
            lambda tags: Reading(
                reading=ReadingKind.REMINDER,
                reminder=replace(_made(message, part, cue, items, [], day, clock, rhythm), specimens=tags),
            ),
        )
    if rhythm.once and len({s.day for s in days if s.day is not None and not s.implied}) > 1:
        return asked(About.DAY, "two_orders")  # "feed Ink tomorrow and Mole on Friday"
    if day is not None and day < message.today:
        return asked(About.DAY, "past_day")
    if day is None and rhythm.once:
        if clock is None:
            made = _made(message, part, cue, items, refs, None, None, rhythm)
            return _asked_when(message.words(part.start, part.stop), made)
        today = message.calendar_day
        day = today if clock > message.now.time() else today + timedelta(days=1)
    return Reading(
        reading=ReadingKind.REMINDER, reminder=_made(message, part, cue, items, refs, day, clock, rhythm)
    )


def _those_told_of(message: Message, items: Sequence[Item], part: range, cue: int | None) -> list[Ref]:
    """ "Ink molted. In 12 days remind me to offer food": whoever alone was told of, if it is such work."""
    asks = range(cue, message.cues[cue][0]) if cue is not None else range(0)
    beside = [item for item in items if item.i not in asks and item.cat not in "DPM"]
    said = [item for item in beside if not _BESIDE_WORK & item.senses.keys()]
    work = said[0].senses.verbs if said else ()
    hers = any(verb.group.base and verb.group.kind in _WORK_ON_HER for verb in work) and all(
        item.cat == "N" or not _GIVEN.isdisjoint(item.senses) for item in said[1:]
    )
    of_a_sac = any(Kind.SAC in item.senses.kinds for item in said)
    if not (hers or of_a_sac) or part.start == 0:
        return []
    before = message.items([range(part.start)])
    if not hers and not any(Kind.SAC in item.senses.kinds for item in before):
        return []  # "Lantern laid a sac, remind me to pull the sac in 30 days": hers
    named = [n for n, item in enumerate(before) if item.cat == "S"]
    listed = before[named[0] : named[-1] + 1] if named else []
    in_one = all(i.cat == "S" or i.text == "," or "and" in i.senses for i in listed)
    return named_in(message, before) if in_one else []


#: Small words beside the work that a reminder is about: "please", "to feed again".
_BESIDE_WORK: Final = frozenset({"fill", "to", "future", "a", "some"})
_WORK_ON_HER: Final = frozenset({Kind.FED, Kind.OFFERED, Kind.WATERED, Kind.CHECKED, Kind.SAC})
#: What she is to have: "offer food", "feed a roach".
_GIVEN: Final = frozenset({"prey", "size", "noun"})


def _asked_when(words: str, made: Reminder) -> Reading:
    """The question when to remind; the order is kept in its words, to be read on with the answer."""
    draft = Reading(reading=ReadingKind.REMINDER, text=words, reminder=made)
    return Reading(reading=ReadingKind.ASK, ask=Ask(about=About.DAY, doubt="remind_when", draft=draft))


def _of_the_month(spans: Sequence[Any]) -> list[Any]:
    """ "next month on the 5th": a month to come, and the day of it."""
    month = next((s for s in spans if s.rule == "next month" and s.day is not None), None)
    sure = next((s for s in spans if s.rule in {"on the nth", "the nth"} and s.day and not s.doubt), None)
    if month is None or sure is None:
        return list(spans)
    try:
        meant = replace(sure, day=month.day.replace(day=sure.day.day))
    except ValueError:  # no 31st in that month
        return list(spans)
    return [meant, *(s for s in spans if s is not month and s is not sure)]


def _clock_beside(
    rhythm: _Rhythm, message: Message, part: range, items: Sequence[Item]
) -> tuple[Any, _Rhythm]:
    """The time in "every month on the 20th at 9", where the day before it belongs to the rhythm."""
    base = message.tokens[part.start].start
    text = message.words(part.start, part.stop)
    periods = [i for i in items if i.cat == "P"]
    places = [(message.tokens[i.i].start - base, message.tokens[i.j - 1].end - base) for i in periods]
    for start, end in (*rhythm.places, *places):
        text = text[:start] + " " * (end - start) + text[end:]
    late = message.now.replace(hour=23, minute=59)
    settings = message.settings
    spans = find_days(Words(text), Moment(late, settings.date_order, "future"), settings.language)
    found = next((s for s in spans if s.implied and s.time is not None), None)
    if found is None:
        return None, rhythm
    return found.time, replace(rhythm, places=(*rhythm.places, (found.start, found.end)))


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
    what = _work_alone(_without(message.words(part.start, part.stop), spans), message.settings.language)
    refs = refs if what else animals(message, items, part, always=True)  # "pause Ink, remind me on Friday"
    tags = message.names.in_order(t for r in refs for t in r.tags)
    return Reminder(
        what=what or "look in",
        specimens=tags,
        day=day,
        time=clock,
        every_days=rhythm.every,
        rule=rhythm.rule,
        from_done=rhythm.from_done and not rhythm.once,
        part=next((i.val.part for i in items if i.cat in "DP" and i.val.part), None)
        if clock is None
        else None,
    )


@cache
def _ends() -> re.Pattern[str]:
    """What stands at the ends of a request and is none of its work."""
    leads = "|".join(sorted(word_set("before_work")))
    opens = rf"^[\s,:;.\-–]*(?:(?:{leads})(?:\s+|$))?"
    return re.compile(
        rf"{opens}|[\s,:;.!\-–]+$|\s+(?:pls|please|thanks|ta)[.!]*$",
        re.IGNORECASE,
    )


def _work_alone(what: str, language: str) -> str:
    """ "kannst du mich ans Sprühen": the work without the words that only lead to it or stand behind it."""
    around = _around_work(language)
    last = None
    while around is not None and last != what:
        last, what = what, around.sub("", what)
    return what


@cache
def _around_work(language: str) -> re.Pattern[str] | None:
    """The words of a language around the work that one is to be reminded of, if it has any."""
    said = own_data(language).get("around_a_reminder")
    if said is None:
        return None
    before, behind = ("|".join(sorted(map(re.escape, said[key]), key=len, reverse=True)) for key in said)
    return re.compile(rf"^(?:{before})\s+(?=\S)|(?<=\S)\s+(?:{behind})$|^[\s,:;]+|[\s,:;]+$", re.IGNORECASE)


def _without(words: str, spans: Sequence[tuple[int, int]]) -> str:
    """The words of a request without its cue and its day."""
    out, at = [], 0
    for start, end in sorted(spans):
        out.append(words[at:start])
        at = max(at, end)
    out.append(words[at:])
    left, last = " ".join(" ".join(out).split()), None
    while last != left:
        last, left = left, _ends().sub("", left)
    return left
