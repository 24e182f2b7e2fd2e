"""Feeding prompts that the keeper asks to pause or to go on: "hold Ink until Friday", "skip Mole tonight"."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from bot.reading.days.meaning import shifted
from bot.reading.items.item import Item, Ref
from bot.reading.items.lengths import length_in
from bot.reading.message.animals_meant import about_day, animals, asked, order_items, which
from bot.reading.message.parse import Message
from bot.reading.model import About, Ask, Hold, Option, Reading, ReadingKind
from bot.reading.orders.stretches import sentence_of, stretch_of
from bot.reading.orders.withheld import may_withhold, withheld_from
from bot.reading.questions.questions import wants_to_know
from bot.reading.words.rule_words import rule_words

_DAY: Final = timedelta(days=1)


def held_or_resumed(message: Message) -> tuple[range, Reading] | None:
    """The pause, or the end of one, that the words for it or for withheld food ask for, and its tokens."""
    for cat, state in (("resume", "resume"), ("hold", "hold")):
        at = message.cue_at(cat)
        if at is not None:
            part = stretch_of(message, at)
            skipped = _only_skipped(message, cat, at, part)
            if skipped is not None:
                return part, skipped
            if (
                wants_to_know(message, message.first_word(sentence_of(message, part)))
                or _lacks_its_end(message, cat, at, part)
                or _tells_of_none(message, at, part)
                or _in_the_hand(message, at)
                or _only_a_moment(message, at)
                or _eats_again(message, at)
                or leaves_in_peace(message, part)
            ):
                continue
            held = hold_of(message, part, state)
            perhaps = any(s.cat == cat and s.group.act == "perhaps" for s in message.cues[at][1])
            return part, _if_meant(held) if perhaps else held
    if not may_withhold(message):
        return None
    sentences = message.sentences(range(len(message.tokens)))
    asked_for = (sentence for sentence in sentences if withheld_from(message, sentence))
    return next(((sentence, hold_of(message, sentence, "hold")) for sentence in asked_for), None)


def _tells_of_none(message: Message, at: int, part: range) -> bool:
    """ "twig no food again": "no food" with no word of until when tells, and asks for nothing."""
    senses = message.senses(at)
    short = message.cues[at][0] - at == len(("no", "food")) and any(s.cat == "no" for s in senses)
    later = (
        i.cat == "P" or (i.cat == "D" and i.val.day != message.today) for i in message.items([part], "future")
    )
    return short and not any(later)


def _lacks_its_end(message: Message, cat: str, at: int, part: range) -> bool:
    """ "skip Ink" is for today, "skip Ink until Friday" a pause: such words need its end."""
    if not any(s.cat == cat and s.group.act == "with an end" for s in message.cues[at][1]):
        return False
    items = message.items([part], "future")
    ends = any(i.cat == "P" and i.val.until is not None for i in items)
    named = any(i.cat == "S" and i.i == at for i in items)  # "Skip ate tonight"
    ends = ends or (not named and any(i.cat == "D" and i.val.day == message.today for i in items))
    return at != message.first_word(part) or not ends


def _only_skipped(message: Message, cat: str, at: int, part: range) -> Reading | None:
    """ "skip Ink": whether she is to be left out until tomorrow is asked, where nothing more is said."""
    with_an_end = any(s.cat == cat and s.group.act == "with an end" for s in message.cues[at][1])
    whom = [i for i in message.items([range(message.cues[at][0], part.stop)]) if i.cat != "M"]
    one = len(whom) == 1 and whom[0].cat == "S" and whom[0].val.sure and len(whom[0].val.tags) == 1
    if not (with_an_end and one and at == message.first_word(part) and not whom[0].owns):
        return None
    held = Hold(specimens=whom[0].val.tags, state="hold", until=message.today + _DAY)
    return _if_meant(Reading(reading=ReadingKind.HOLD, hold=held), "skip_of")


def _if_meant(held: Reading, doubt: str = "pause_of") -> Reading:
    """ "stop the round for Ink": whether feeding prompts are to pause is asked."""
    if held.hold is None or len(held.hold.specimens) != 1:
        return held if held.hold is None else asked(About.KIND, "no_kind")
    tag = held.hold.specimens[0]
    options = (Option(value=tag, reading=held),)
    ask = Ask(about=About.SPECIMEN, doubt=doubt, choices=(tag,), options=options)
    return Reading(reading=ReadingKind.ASK, ask=ask)


def leaves_in_peace(message: Message, part: range) -> bool:
    """ "Sunny refused, don't bother her": behind what was told, with no end said, it asks for no pause."""
    before = message.items([range(part.start)]) if part.start else ()
    if not any("verb" in i.senses and not i.senses["verb"].group.base for i in before):
        return False
    items = message.items([part], "future")
    said = [i for i in items if i.cat != "M" and {"so", "and", "then"}.isdisjoint(i.senses)]
    words = [message.keys[n] for i in said for n in range(i.i, i.j) if "pron" not in i.senses]
    return " ".join(words) in _IN_PEACE and any("pron" in i.senses for i in said)


_IN_PEACE: Final = rule_words("in_peace")


def _in_the_hand(message: Message, at: int) -> bool:
    """ "Ink let me hold her": behind whoever holds, and with no word of food, it is no pause of anything.

    Nor is "took hold of a roach", which she has in her fangs.
    """
    end = message.cues[at][0]
    said = set(message.keys[at:end])
    held = not _HOLD.isdisjoint(said) and said.isdisjoint(_FOOD)
    taken = " ".join(message.keys[end - 1 : end + 1]) in _HOLD_OF
    return held and at > 0 and (taken or message.keys[at - 1] in _WHO_HOLDS)


def _only_a_moment(message: Message, at: int) -> bool:
    """ "80 ml no hold on 90 ml", "hold on, Ink ate": taken back or thought of, and no pause."""
    if " ".join(message.keys[at : at + 2]) not in _HOLD_ON:
        return False
    behind = message.keys[at + 2 : at + 3]
    if not _TAKES_BACK.isdisjoint(behind) or (at > 1 and message.keys[at - 1] in _NO):
        return True
    first = message.items([range(at + 2, len(message.tokens))])[:2]
    value = at > 0 and bool(first) and first[0].cat in "NAD"
    return value or (len(first) > 1 and first[0].cat == "S" and bool(first[1].senses.verbs))


def _eats_again(message: Message, at: int) -> bool:
    """ "Ink's back on her food!": told of her, where "back on food: Ink" asks for the prompts."""
    account = message.phrases.get(at)
    tells = account is not None and any(s.cat == "verb" for s in account[1])
    before = message.items([range(at)]) if tells and at else []
    is_ = bool(before) and before[-1].text in _IS
    who = before[-1 - is_] if len(before) > is_ else None
    return who is not None and who.cat == "S" and (is_ or who.owns)


_IS: Final = rule_words("is_or_are")
_FOOD: Final = rule_words("food_or_prompts")
_WHO_HOLDS: Final = rule_words("who_holds")
_HOLD: Final = rule_words("hold")
_HOLD_OF: Final = rule_words("hold_of")
_HOLD_ON: Final = rule_words("hold_on")
_NO: Final = rule_words("no_alone")
_TAKES_BACK: Final = _NO | {","}


def hold_of(message: Message, part: range, state: str) -> Reading:
    """The pause, or its end, that a part of a message asks for; asked where whom or how long is not clear."""
    items = _until_before(message, part, order_items(message, part, dated=False))
    refs = _everyone(message, items, state) or animals(message, items, part, always=True)
    until: date | None = None
    firsts = _first_days(items)
    unclear = _unclear_days(message, items, firsts, state)
    if unclear is not None:
        return asked(About.DAY, unclear)
    if state == "hold":
        items = [item for item in items if item not in firsts]
    for item in items:
        if item.cat == "P":
            until = item.val.until or until
            if item.val.kind == "until" and until is None and item is items[-1]:
                return asked(About.DAY, "vague_day")
        elif item.cat == "D":
            today = state == "hold" and item.val.day == message.today  # "skip Ink tonight"
            until = message.today + _DAY if today else item.val.day or until
        if item.cat in "PD" and item.val.doubt:
            return about_day(item.val, lambda day, _clock: _held(message, refs, state, day))
    if state == "hold":
        until = until or _after_so_long(message, items)
        if until is None and any("when" in i.senses for i in items) and not _until_an_event(items):
            return asked(About.DAY, "vague_day")  # "until then"
        if until is not None and until <= message.today:
            return asked(About.DAY, "past_day")
    return _of_whom(message, refs, state, until)


def _everyone(message: Message, items: Sequence[Item], state: str) -> list[Ref]:
    """ "no prompts for anybody", "… for anybody but Ink": everyone, where nothing is to be asked for."""
    pairs = enumerate(pairwise(items), start=1)
    anybody = next(
        (n for n, (lead, who) in pairs if who.text in _ANYBODY and not _LEADS.isdisjoint(lead.senses)), None
    )
    if state != "hold" or anybody is None:
        return []
    behind = items[anybody + 1 :]
    excepting = next((n for n, item in enumerate(behind) if not _EXCEPT.isdisjoint(item.senses)), len(behind))
    if any(item.cat == "S" for item in behind[:excepting]):  # "for anybody on C"
        return []
    refs = [ref for item in behind if item.cat in {"S", "X"} for ref in _refs_of(item)]
    if not all(ref.sure for ref in refs):
        return []
    left_out = {tag for ref in refs for tag in ref.tags}
    tags = tuple(tag for tag in message.names.by_tag if tag not in left_out)
    return [Ref(tags, how="group", plural=True, group=True)] if tags else []


def _refs_of(item: Item) -> Sequence[Ref]:
    """The animals of a name, or of an exception."""
    return item.val if item.cat == "X" else (item.val,)


_LEADS: Final = frozenset({"for", "to", "or"})
_EXCEPT: Final = frozenset({"but", "except"})
_ANYBODY: Final = rule_words("anybody")


def _unclear_days(message: Message, items: Sequence[Item], firsts: Sequence[Item], state: str) -> str | None:
    """Why the days that are said leave open for how long it is to hold, or ``None``."""
    said = {day for i in items if i.cat in "PD" and (day := i.val.until if i.cat == "P" else i.val.day)}
    if len(said) > 1:
        return "two_orders"  # "pause Ink until Friday, Mole until Sunday"
    later = any(item.val.day is None or item.val.day > message.today for item in firsts)
    return "hold_begins" if later and state == "hold" else None


def _first_days(items: Sequence[Item]) -> list[Item]:
    """ "pause Ink from Friday": the days that are said to be its first."""
    return [b for a, b in pairwise(items) if b.cat == "D" and a.text in _FROM_A_DAY]


_FROM_A_DAY: Final = rule_words("from_a_day")


def _until_an_event(items: Sequence[Item]) -> bool:
    """ "until she opens": nobody knows on which day, so that it holds until the keeper says otherwise."""
    when = next(n for n, item in enumerate(items) if "when" in item.senses)
    behind = items[when + 1 :]
    whose = bool(behind) and (behind[0].cat == "S" or "pron" in behind[0].senses)
    return whose and len(behind) > 1 and all(item.cat in "WUM" for item in behind[1:])


def _after_so_long(message: Message, items: Sequence[Item]) -> date | None:
    """ "pause Ink 10 days": the day after a length of time with no word before it."""
    days = length_in(items, message.settings.language)
    return shifted(message.today, days) if days is not None else None


def _of_whom(message: Message, refs: Sequence[Ref], state: str, until: date | None) -> Reading:
    unsure = next((r for r in refs if not r.sure), None)
    if unsure is not None:
        return which(
            unsure,
            lambda tags: Reading(
                reading=ReadingKind.HOLD, hold=Hold(specimens=tags, state=state, until=until)
            ),
        )
    if not refs:
        return asked(About.SPECIMEN, "nobody_named")
    return _held(message, refs, state, until)


def _until_before(message: Message, part: range, items: list[Item]) -> list[Item]:
    """ "no prompts for Ink before 5 August": a day behind "before" is that until which it holds."""
    at = next((n for n, item in enumerate(items) if item.text in _BEFORE), None)
    if at is None:
        return items
    behind = message.items([range(items[at].j, part.stop)], "future")
    return [*items[:at], *behind] if any(item.cat == "D" for item in behind[:1]) else items


_BEFORE: Final = rule_words("before")


def _held(message: Message, refs: Sequence[Ref], state: str, until: date | None) -> Reading:
    tags = message.names.in_order(t for r in refs for t in r.tags)
    if state == "resume" and until is not None and until > message.today:
        state = "hold"  # "back on the list from Friday": off it until then
    return Reading(
        reading=ReadingKind.HOLD,
        hold=Hold(specimens=tags, state=state, until=until if state == "hold" else None),
    )
