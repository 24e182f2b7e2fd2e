"""Text in, reading out: the one door through which a message is understood."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise
from typing import Any, Final

from bot.reading.accounts.told import UNCLEAR, told
from bot.reading.amends.amends import amended
from bot.reading.amends.earlier import of_an_earlier_one
from bot.reading.amends.put_right import not_on_that_day, put_right
from bot.reading.message.asides import without_asides
from bot.reading.message.mending import Mended, mended
from bot.reading.message.names_answered import names_answered
from bot.reading.message.parse import Message
from bot.reading.message.signs_of_prey import told_by_signs
from bot.reading.model import About, Reading, ReadingKind, Topic
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.orders.days_put_right import with_its_day_put_right
from bot.reading.orders.orders import order_in, second_order
from bot.reading.orders.pauses_together import one_pause
from bot.reading.questions.cuts import doubts_whom, told_and_asked, without_what_was_not_so
from bot.reading.questions.questions import asks_of_a_thing, opens_as_question, question_in
from bot.reading.words.rule_words import rule_words
from bot.terms import Entry, KeeperSettings

_log: Final = logging.getLogger(__name__)


def read(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings, talked_of: str | None = None
) -> Reading:
    """How a message is to be read.

    ``now`` is the time in the keeper's zone, ``talked_of`` the tag of the animal just talked of, for
    pronouns. Never raises; what cannot be read is ``unclear``.
    """
    try:
        reading = _with_slips_mended(told_by_signs(Message(text, names, now, settings, talked_of)))
    except Exception:  # a fault of ours must not lose the keeper's message
        _log.exception("a message could not be read")
        reading = UNCLEAR
    return reading if reading.text == text else replace(reading, text=text)


def _with_slips_mended(message: Message) -> Reading:
    """The reading of a message with the slips in its words mended; a note and people keep their spelling."""
    better = mended(message)
    if better is None:
        return _reading(message)
    reading = _reading(message.saying(better.text))
    notes = " ".join(entry.note for entry in reading.entries if entry.note).lower()
    if any(right in notes for _, right in better.words):
        return _reading(message)
    return replace(reading, entries=tuple(_people_as_written(entry, better) for entry in reading.entries))


def _people_as_written(entry: Entry, better: Mended) -> Entry:
    """ "got two slings from conor": whoever a word is that was mended, it is what the keeper calls them."""
    if entry.to is None and entry.source is None:
        return entry
    return replace(entry, to=better.as_written(entry.to), source=better.as_written(entry.source))


def _reading(message: Message) -> Reading:
    if not message.says_anything():
        return UNCLEAR
    news = not_on_that_day(message)
    if news is not None:
        account, denied = news
        return replace(_reading(account), denies=denied)
    change = of_an_earlier_one(message) or put_right(message) or amended(message)
    if change is not None:
        return change
    otherwise = names_answered(message) or with_its_day_put_right(message)
    if otherwise is not None:
        return _reading(otherwise)
    order = order_in(message)
    shorter = without_asides(message)
    if shorter is not None and (order is None or order_in(shorter) is None):
        return _of_the_whole(_reading(shorter), shorter, message)
    undoubted = without_asides(message, doubts=True) if order is None else None
    asked = _reading(undoubted) if undoubted is not None else UNCLEAR
    if asked.reading is ReadingKind.ASK:  # "three or four, I lost count": asked about anyway
        return asked
    everything = range(len(message.tokens))
    if order is None:
        return _beside(message, [everything], None)
    part, reading = order
    rest = [range(part.start), range(part.stop, everything.stop)]
    for place, beside in enumerate(rest):
        second = second_order(message, beside)
        if second is not None:
            taken, other = second
            rest[place : place + 1] = [range(beside.start, taken.start), range(taken.stop, beside.stop)]
            both = _of_both(message, reading, other)
            return _on_that_day(message, reading, other) or _beside(message, rest, both)
    return _beside(message, rest, reading)


def _of_both(message: Message, first: Reading, second: Reading) -> Reading:
    """Two orders of one message; one that has to be asked about stands beside the other."""
    one, other = first.hold, second.hold
    if one and other:
        return one_pause(message, one, other)
    if first.reading is ReadingKind.ASK:
        first, second = second, first
    return _with(first, second)


def _on_that_day(message: Message, first: Reading, second: Reading) -> Reading | None:
    """ "remind me on the 9th to feed Ink, no prompts until then": the day that the other order says."""
    days = [_day_of(order) for order in (first, second)]
    day = next((day for day in days if day is not None), None)
    vague = any(order.ask is not None and order.ask.about is About.DAY for order in (first, second))
    then = [at for at, key in enumerate(message.keys) if key in _THEN]
    if day is None or not vague or len(then) != 1:
        return None
    token = message.tokens[then[0]]
    plain = message.source.plain
    return _reading(message.saying(f"{plain[: token.start]}{day.isoformat()}{plain[token.end :]}"))


_THEN: Final = rule_words("then")


def _day_of(order: Reading) -> date | None:
    if order.hold is not None:
        return order.hold.until
    return order.reminder.day if order.reminder is not None else None


def _of_the_whole(reading: Reading, shorter: Message, message: Message) -> Reading:
    """What a message says without its asides; a note has all of the keeper's words."""
    said, whole = shorter.source.plain.strip(), message.source.plain.strip()
    entries = tuple(replace(e, note=whole) if e.note == said else e for e in reading.entries)
    return replace(reading, entries=entries)


def _of_nobody_asked(message: Message, sentences: Sequence[range], account: Reading) -> bool:
    """ "Which of them refused twice running?": no account lacking a name, but a question not understood.

    So is "have I bought crickets?", which names no animal of the shelf either.
    """
    ask = account.ask
    if ask is not None:
        lacks = ask.about is About.SPECIMEN and not ask.choices
        return lacks and any(opens_as_question(message, sentence) for sentence in sentences)
    nameless = not any(entry.specimens for entry in account.entries)
    return nameless and all(message.tokens[sentence.stop - 1].text == "?" for sentence in sentences)


def _beside(message: Message, rest: Sequence[range], order: Reading | None) -> Reading:
    """What is told and asked in the rest of a message, with the order beside it."""
    sentences: list[range] = []
    question: Reading | None = None
    for sentence in (p for part in rest for s in message.sentences(part) for p in told_and_asked(message, s)):
        told_of = doubts_whom(message, sentence) or _is_one_deed(message, sentence)
        asked = None if told_of else question_in(message, sentence)
        if asked is not None:
            question = question or asked
        elif not asks_of_a_thing(message, sentence):
            sentences.append(sentence)
    sentences = without_what_was_not_so(message, sentences)
    account = told(message, sentences) if sentences else UNCLEAR
    if account.reading is ReadingKind.UNCLEAR or _of_nobody_asked(message, sentences, account):
        if order is not None:
            return _with(order, question)
        return question or replace(UNCLEAR, denies=account.denies)
    if order is not None and account.ask is not None and _only_why(message, sentences, account):
        return _with(order, question)
    return _with(account, order, _of_the_kind_told(message, account, question))


def _of_the_kind_told(message: Message, account: Reading, question: Reading | None) -> Reading | None:
    """ "Dottie molted, how long since her last one?": the last one of what is told before the question."""
    asked = question.question if question is not None else None
    if question is None or asked is None or asked.topic is not Topic.HISTORY:
        return question
    kinds = {entry.kind for entry in account.entries}
    last_one = any(one in _LAST and other in _ONE for one, other in pairwise(message.keys))
    if len(kinds) != 1 or not last_one:
        return question
    return replace(question, question=replace(asked, topic=Topic.LAST, kind=kinds.pop()))


_LAST: Final = rule_words("last_or_latest")
_ONE: Final = rule_words("one")


def _is_one_deed(message: Message, sentence: range) -> bool:
    """ "last molt done.": all of it words for what somebody did, and no question after the last one."""
    said = [item for item in message.items([sentence]) if item.cat != "M"]
    alone = len(said) == 1 and message.tokens[sentence.stop - 1].text != "?"
    groups = [verb.group for verb in said[0].senses.verbs] if alone else []
    return any(not (group.base or group.noun or group.keeper) for group in groups)


def _with(first: Reading, *others: Reading | None) -> Reading:
    """A reading with what is said beside it."""
    more = {name: value for second in others for name, value in _more(second, first).items()}
    return replace(first, **more) if more else first


def _more(second: Reading | None, first: Reading) -> dict[str, Any]:
    """What an order or a question adds to what stands beside it; what has no place there stands by itself."""
    if second is None:
        return {}
    said = {key: getattr(second, key) for key in ("reminder", "hold", "question", "beside")}
    said = {key: value for key, value in said.items() if value is not None}
    taken = any(getattr(first, key) is not None for key in said)
    return {"beside": second} if second.reading is ReadingKind.ASK or taken else said


def _only_why(message: Message, sentences: Sequence[range], account: Reading) -> bool:
    """Whether what stands beside an order only says why: "Ink's fasting, pause her".

    A word that is not understood may tell of something, and is asked about.
    """
    nothing_told = account.ask is not None and account.ask.doubt == "no_kind"
    return nothing_told and all(item.cat != "U" for item in message.items(sentences))
