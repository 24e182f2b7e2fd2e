"""What the keeper asks of the bot: to be told later, and feeding prompts to pause or go on."""

from __future__ import annotations

from typing import Final

from bot.reading.message.animals_meant import named_in
from bot.reading.message.parse import Message
from bot.reading.model import Reading
from bot.reading.orders.holding import held_or_resumed, hold_of, leaves_in_peace
from bot.reading.orders.pausing import pausing_at, state_meant
from bot.reading.orders.reminders import may_be_work, reminder, unbidden
from bot.reading.orders.stretches import orders_at, stretch_of
from bot.reading.questions.questions import question_in, wants_to_know
from bot.reading.words.rule_words import rule_words

_FEED: Final = rule_words("feed")
_AGAIN: Final = rule_words("again")


def order_in(message: Message) -> tuple[range, Reading] | None:
    """The order a message gives and the tokens it takes up; the rest is read as any message."""
    pausing = pausing_at(message)
    if pausing is not None:
        part = stretch_of(message, pausing)
        state = state_meant(message, pausing, part)
        if state is not None and not leaves_in_peace(message, part):
            return part, hold_of(message, part, state)
    at = message.cue_at("remind")
    if at is not None and not (_asks_which_day(message, at) or _only_recalls(message, at)):
        again = _asked_again(message, at)
        if again is not None:
            return again
        part = stretch_of(message, at)
        if at and any(s.cat == "neg" for s in message.senses(at - 1)):
            return part, hold_of(message, part, "hold")
        return part, reminder(message, part, at)
    held = held_or_resumed(message)
    if held is not None:
        return held
    first = message.first_word(range(len(message.tokens)))
    if first is None or message.tokens[-1].text == "?" or not may_be_work(message, first):
        return None
    if message.named_at(first):
        return None  # "Old Mate got a cricket, …": a name of two words
    part = stretch_of(message, first)
    if part.start == 0 and _feeds_again(message, part):
        return part, hold_of(message, part, "resume")
    found = unbidden(message, first, part) if part.start == 0 else None
    return (part, found) if found is not None else None


def _asks_which_day(message: Message, at: int) -> bool:
    """ "could you tell me on what date Sunny last ate?": a day that is asked for, and none to be told on."""
    end = message.cues[at][0]
    behind = message.keys[end - (message.keys[end - 1] in _ON) :][:3]
    return (
        message.keys[at] in _TELL
        and not _ON.isdisjoint(behind[:1])
        and not _WHICH.isdisjoint(behind[1:2])
        and not _DAYS.isdisjoint(behind[2:3])
    )


_TELL: Final = rule_words("tell")


def _only_recalls(message: Message, at: int) -> bool:
    """ "kann mich nicht erinnern": within words of doubt, nothing is asked for."""
    begun = (message.phrases[n] for n in range(at) if n in message.phrases)
    return any(end > at and any(sense.cat == "hedge" for sense in senses) for end, senses in begun)


_ON: Final = rule_words("bare_on")
_WHICH: Final = rule_words("what_or_which")
_DAYS: Final = rule_words("day_asked_for")


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
    if not any(orders_at(message, at) for at in part):
        return None
    before = named_in(message, message.items([range(part.start)])) if part.start else []
    tags = before[-1].tags if before and len(before[-1].tags) == 1 else ()
    found = order_in(message.saying(message.words(part.start, part.stop), of=tags[0] if tags else None))
    if found is None:
        return None
    taken, reading = found
    return range(part.start + taken.start, part.start + taken.stop), reading


def _feeds_again(message: Message, part: range) -> bool:
    """ "feed Ink again": an animal, and "again" behind it."""
    items = [i for i in message.items([part]) if i.cat != "M"]
    feeds = bool(items) and items[0].text in _FEED
    return feeds and len(items) == 3 and items[1].cat == "S" and items[2].text in _AGAIN
