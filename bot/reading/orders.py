"""What the keeper asks of the bot: to be told later, and feeding prompts to pause or go on."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.model import About, Ask, Hold, Option, Reading, ReadingKind
from bot.reading.order_parts import about_day, animals, asked, named_in, order_items, which
from bot.reading.parse import Message
from bot.reading.pausing import pausing_at, state_meant
from bot.reading.question_cuts import asked_behind
from bot.reading.questions import question_in, wants_to_know
from bot.reading.reminders import may_be_work, reminder, unbidden
from bot.reading.withheld import may_withhold, withheld_from

_DAY: Final = timedelta(days=1)
_FEED: Final = frozenset({"feed"})
_AGAIN: Final = frozenset({"again"})
_CLAUSE_ENDS: Final = frozenset(",;.!?\n")


def order_in(message: Message) -> tuple[range, Reading] | None:
    """The order a message gives and the tokens it takes up; the rest is read as any message."""
    pausing = pausing_at(message)
    if pausing is not None:
        part = _stretch(message, pausing)
        state = state_meant(message, pausing, part)
        if state is not None and not _leaves_in_peace(message, part):
            return part, _hold(message, part, state)
    at = message.cue_at("remind")
    if at is not None and not (_asks_which_day(message, at) or _only_recalls(message, at)):
        again = _asked_again(message, at)
        if again is not None:
            return again
        part = _stretch(message, at)
        if at and any(s.cat == "neg" for s in message.senses(at - 1)):
            return part, _hold(message, part, "hold")
        return part, reminder(message, part, at)
    held = _held_or_resumed(message)
    if held is not None:
        return held
    first = message.first_word(range(len(message.tokens)))
    if first is None or message.tokens[-1].text == "?" or not may_be_work(message, first):
        return None
    part = _stretch(message, first)
    if part.start == 0 and _feeds_again(message, part):
        return part, _hold(message, part, "resume")
    found = unbidden(message, first, part) if part.start == 0 else None
    return (part, found) if found is not None else None


def _asks_which_day(message: Message, at: int) -> bool:
    """ "could you tell me on what date Sunny last ate?": a day that is asked for, and none to be told on."""
    end = message.cues[at][0]
    behind = message.keys[end - (message.keys[end - 1] == "on") :][:3]
    return (
        message.keys[at] == "tell"
        and behind[:1] == ["on"]
        and behind[1:2] in (["what"], ["which"])
        and behind[2:3] in _DAYS
    )


def _only_recalls(message: Message, at: int) -> bool:
    """ "kann mich nicht erinnern": within words of doubt, nothing is asked for."""
    begun = (message.phrases[n] for n in range(at) if n in message.phrases)
    return any(end > at and any(sense.cat == "hedge" for sense in senses) for end, senses in begun)


_DAYS: Final = (["day"], ["date"], ["days"], ["dates"], ["weekday"])


def _asked_again(message: Message, at: int) -> tuple[range, Reading] | None:
    """ "remind me, when did Ink last eat?": what is asked is to be answered now."""
    end = message.cues[at][0]
    if end + 1 >= len(message.tokens) or message.tokens[end].text not in _BEFORE_ASKED:
        return None
    behind = range(end + 1, len(message.tokens))
    question = question_in(message, behind) if wants_to_know(message, message.first_word(behind)) else None
    return (range(at, behind.stop), question) if question is not None else None


_BEFORE_ASKED: Final = frozenset(",:–-")


def second_order(message: Message, part: range) -> tuple[range, Reading] | None:
    """One more order in what stands beside the first: "pause Ink. remind me to feed Mole on Friday"."""
    if not any(_orders(message, at) for at in part):
        return None
    before = named_in(message, message.items([range(part.start)])) if part.start else []
    tags = before[-1].tags if before and len(before[-1].tags) == 1 else ()
    found = order_in(message.saying(message.words(part.start, part.stop), of=tags[0] if tags else None))
    if found is None:
        return None
    taken, reading = found
    return range(part.start + taken.start, part.start + taken.stop), reading


def _held_or_resumed(message: Message) -> tuple[range, Reading] | None:
    """The pause, or the end of one, that the words for it or for withheld food ask for, and its tokens."""
    for cat, state in (("resume", "resume"), ("hold", "hold")):
        at = message.cue_at(cat)
        if at is not None:
            part = _stretch(message, at)
            skipped = _only_skipped(message, cat, at, part)
            if skipped is not None:
                return part, skipped
            if (
                wants_to_know(message, message.first_word(_sentence_of(message, part)))
                or _lacks_its_end(message, cat, at, part)
                or _tells_of_none(message, at, part)
                or _in_the_hand(message, at)
                or _only_a_moment(message, at)
                or _eats_again(message, at)
                or _leaves_in_peace(message, part)
            ):
                continue
            held = _hold(message, part, state)
            perhaps = any(s.cat == cat and s.group.act == "perhaps" for s in message.cues[at][1])
            return part, _if_meant(held) if perhaps else held
    if not may_withhold(message):
        return None
    sentences = message.sentences(range(len(message.tokens)))
    asked_for = (sentence for sentence in sentences if withheld_from(message, sentence))
    return next(((sentence, _hold(message, sentence, "hold")) for sentence in asked_for), None)


def _feeds_again(message: Message, part: range) -> bool:
    """ "feed Ink again": an animal, and "again" behind it."""
    items = [i for i in message.items([part]) if i.cat != "M"]
    feeds = bool(items) and items[0].text in _FEED
    return feeds and len(items) == 3 and items[1].cat == "S" and items[2].text in _AGAIN


def _stretch(message: Message, at: int) -> range:
    """The tokens of an order: from its clause's start to its sentence's end."""
    start = at
    while start > 0 and message.tokens[start - 1].text not in _CLAUSE_ENDS:
        start -= 1
    start = _after_another_order(message, _after_what_happened(message, start, at), at)
    start = _with_its_time(message, start)
    if start == at and _alone_at_the_end(message, at):
        start = _sentence_start(message, at)
    end = at
    while end < len(message.tokens) and not message.ends_sentence(end):
        end += 1
    if end < len(message.tokens) and "." in message.tokens[end - 1].text:
        end += 1  # "until 1.6."
    end = _until_behind(message, end)
    ordered = next((t for t in range(at + 2, end) if _orders(message, t) and _joint(message, t - 1)), end)
    marked = end < len(message.tokens) and message.tokens[end].text == "?"
    question = asked_behind(message, range(at, end + 1 if marked else end))
    ends = min(ordered, question if question is not None else end)
    return range(start, ends if ends == end else ends - 1)


def _with_its_time(message: Message, start: int) -> int:
    """ "Every second day, remind me …": a time that stands before, parted by a comma, is of the order."""
    opens = _sentence_start(message, start)
    before = message.items([range(opens, start)], "future") if opens < start else []
    only = bool(before) and all(i.cat in "PDM" for i in before) and any(i.cat != "M" for i in before)
    return opens if only else start


def _until_behind(message: Message, end: int) -> int:
    """ "Hold: B1. Until 1 Dec.": the end of a sentence behind that says only for how long, else ``end``."""
    behind = message.sentences(range(min(end + 1, len(message.tokens)), len(message.tokens)))[:1]
    said = [i for i in message.items(behind, "future") if i.cat != "M"]
    only = len(said) == 1 and said[0].cat == "P" and str(said[0].val.kind) in _HOW_LONG
    return said[0].j if only else end


#: What a length of time is that says how long an order holds.
_HOW_LONG: Final = frozenset({"until", "for"})


def _after_another_order(message: Message, start: int, at: int) -> int:
    """ "pause Ink and remind me to water Mole": where the order at ``at`` begins behind another."""
    joints = (t for t in range(at - 1, start, -1) if _joint(message, t))
    told = (t for t in joints if any(_orders(message, before) for before in range(start, t)))
    return next(told, start)


def _orders(message: Message, at: int) -> bool:
    """Whether words for an order begin there."""
    return any(s.cat in _ORDERS for s in message.cues.get(at, (0, ()))[1])


_ORDERS: Final = frozenset({"remind", "hold", "resume"})


def _alone_at_the_end(message: Message, at: int) -> bool:
    """ "every other day mist Dot, ping me": what to be told stands before."""
    if "remind" not in {s.cat for s in message.cues.get(at, (0, ()))[1]}:
        return False
    return all(message.light(n) for n in range(message.cues[at][0], len(message.tokens)))


def _sentence_of(message: Message, part: range) -> range:
    return range(_sentence_start(message, part.start), part.stop)


def _sentence_start(message: Message, at: int) -> int:
    while at > 0 and not message.ends_sentence(at - 1):
        at -= 1
    return at


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


def _leaves_in_peace(message: Message, part: range) -> bool:
    """ "Sunny refused, don't bother her": behind what was told, with no end said, it asks for no pause."""
    before = message.items([range(part.start)]) if part.start else ()
    if not any("verb" in i.senses and not i.senses["verb"].group.base for i in before):
        return False
    items = message.items([part], "future")
    said = [i for i in items if i.cat != "M" and {"so", "and", "then"}.isdisjoint(i.senses)]
    words = [message.keys[n] for i in said for n in range(i.i, i.j) if "pron" not in i.senses]
    return words in _IN_PEACE and any("pron" in i.senses for i in said)


_IN_PEACE: Final = (["dont", "bother"], ["do", "not", "bother"], ["dont", "hassle"], ["dont", "pester"])


def _in_the_hand(message: Message, at: int) -> bool:
    """ "Ink let me hold her": behind whoever holds, and with no word of food, it is no pause of anything.

    Nor is "took hold of a roach", which she has in her fangs.
    """
    end = message.cues[at][0]
    said = set(message.keys[at:end])
    held = "hold" in said and said.isdisjoint(_FOOD)
    taken = message.keys[end - 1 : end + 1] == ["hold", "of"]
    return held and at > 0 and (taken or message.keys[at - 1] in _WHO_HOLDS)


def _only_a_moment(message: Message, at: int) -> bool:
    """ "80 ml no hold on 90 ml", "hold on, Ink ate": taken back or thought of, and no pause."""
    if message.keys[at : at + 2] != ["hold", "on"]:
        return False
    behind = message.keys[at + 2 : at + 3]
    if behind in ([","], ["no"]) or (at > 1 and message.keys[at - 1] == "no"):
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


_IS: Final = frozenset({"is", "are"})


_FOOD: Final = frozenset({"food", "feed", "feeding", "meals", "prompts"})
_WHO_HOLDS: Final = frozenset({"me", "i", "you", "we", "us", "to"})


def _after_what_happened(message: Message, start: int, at: int) -> int:
    """ "Ink molted so no feeding for 10 days": the order begins behind what is told before it."""
    joints = (t for t in range(at - 1, start, -1) if _joint(message, t))
    told = (t for t in joints if _tells(message, range(start, t)))
    return next(told, None) or _run_on_from(message, start, at) or start


def _run_on_from(message: Message, start: int, at: int) -> int | None:
    """ "Ink molted can you remind me …": where an order begins with no joint behind what happened."""
    begins = at
    while begins > start and message.keys[begins - 1] in _POLITE:
        begins -= 1
    before = message.items([range(start, begins)]) if begins > start else []
    perhaps = any(not _PERHAPS.isdisjoint(i.senses) for i in before)
    at_a_time = not _IF.isdisjoint(message.keys[start:begins]) or perhaps
    told = any(i.cat == "S" for i in before) and _tells(message, range(start, begins))
    return begins if told and not (at_a_time or before[-1].text in _LEADS_ON) else None


#: Words with which one asks for something.
_POLITE: Final = frozenset(
    {"can", "could", "would", "will", "you", "please", "pls", "ok", "okay", "hey", "bot"}
)
#: Words with which something may happen, or a time is told by it: "once Ink has molted remind me".
_PERHAPS: Final = frozenset({"cond", "future"})
_IF: Final = frozenset(
    {"when", "if", "once", "after", "before", "until", "unless", "since", "whenever"}
    | {"every", "next", "as", "should", "because", "day", "week", "morning"}
)
#: Words that what they lead to belongs to: "Ink ate just".
_LEADS_ON: Final = frozenset({"to", "that", "for", "not", "dont"})


def _joint(message: Message, at: int) -> bool:
    """Whether a word or mark joins what follows to what was said before."""
    if message.tokens[at].text == ",":
        return True
    senses = message.senses(at)
    return any(s.cat in {"so", "and", "then"} for s in senses)


def _tells(message: Message, part: range) -> bool:
    verbs = [i.senses["verb"] for i in message.items([part]) if "verb" in i.senses]
    return any(not (verb.group.base or verb.group.weak) for verb in verbs)


# -- pauses of feeding prompts --------------------------------------------------------------------


def _hold(message: Message, part: range, state: str) -> Reading:
    items = _until_before(message, part, order_items(message, part, dated=False))
    refs = animals(message, items, part, always=True)
    until: date | None = None
    said = {day for i in items if i.cat in "PD" and (day := i.val.until if i.cat == "P" else i.val.day)}
    if len(said) > 1:
        return asked(About.DAY, "two_orders")  # "pause Ink until Friday, Mole until Sunday"
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
    if until is None and state == "hold" and any("when" in i.senses for i in items):
        return asked(About.DAY, "vague_day")  # "until she opens"
    if until is not None and until <= message.today and state == "hold":
        return asked(About.DAY, "past_day")
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
    at = next((n for n, item in enumerate(items) if item.text == "before"), None)
    if at is None:
        return items
    behind = message.items([range(items[at].j, part.stop)], "future")
    return [*items[:at], *behind] if any(item.cat == "D" for item in behind[:1]) else items


def _held(message: Message, refs: Sequence[Ref], state: str, until: date | None) -> Reading:
    tags = message.names.in_order(t for r in refs for t in r.tags)
    if state == "resume" and until is not None and until > message.today:
        state = "hold"  # "back on the list from Friday": off it until then
    return Reading(
        reading=ReadingKind.HOLD,
        hold=Hold(specimens=tags, state=state, until=until if state == "hold" else None),
    )
