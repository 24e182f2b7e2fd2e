"""Which words of a message an order takes up: from where it begins to where its sentence ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.questions.cuts import asked_behind
from bot.reading.words.rule_words import rule_words

_CLAUSE_ENDS: Final = frozenset(",;.!?\n")


def stretch_of(message: Message, at: int) -> range:
    """The tokens of an order: from its clause's start to its sentence's end."""
    start = at
    while start > 0 and not _ends_clause(message, start - 1):
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
    ordered = next((t for t in range(at + 2, end) if orders_at(message, t) and _joint(message, t - 1)), end)
    marked = end < len(message.tokens) and message.tokens[end].text == "?"
    question = asked_behind(message, range(at, end + 1 if marked else end))
    ends = min(ordered, question if question is not None else end)
    return range(start, ends if ends == end else ends - 1)


def _ends_clause(message: Message, at: int) -> bool:
    """Whether a mark ends a clause; the point of "15. August" ends none."""
    mark = message.tokens[at].text
    return mark in _CLAUSE_ENDS and (mark != "." or message.ends_sentence(at))


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
    only = only or (len(said) > 1 and said[-1].cat == "D" and _starts_again(said[:-1]))
    return said[-1].j if only else end


def _starts_again(said: Sequence[Item]) -> bool:
    """ "Start again on the 1st", "back from the 1st": when an order ends that was given before."""
    return all(not _AGAIN.isdisjoint(item.text.split()) for item in said)


_AGAIN: Final = rule_words("starts_again")


#: What a length of time is that says how long an order holds.
_HOW_LONG: Final = frozenset({"until", "for"})


def _after_another_order(message: Message, start: int, at: int) -> int:
    """ "pause Ink and remind me to water Mole": where the order at ``at`` begins behind another."""
    joints = (t for t in range(at - 1, start, -1) if _joint(message, t))
    told = (t for t in joints if any(orders_at(message, before) for before in range(start, t)))
    return next(told, start)


def orders_at(message: Message, at: int) -> bool:
    """Whether words for an order begin there."""
    return any(s.cat in _ORDERS for s in message.cues.get(at, (0, ()))[1])


_ORDERS: Final = frozenset({"remind", "hold", "resume"})


def _alone_at_the_end(message: Message, at: int) -> bool:
    """ "every other day mist Dot, ping me": what to be told stands before."""
    if "remind" not in {s.cat for s in message.cues.get(at, (0, ()))[1]}:
        return False
    behind = range(message.cues[at][0], len(message.tokens))
    timed = {n for i in message.items([behind], "future") if i.cat in "DP" for n in range(i.i, i.j)}
    return all(n in timed or message.light(n) for n in behind)  # "…, buzz me at noon"


def sentence_of(message: Message, part: range) -> range:
    """A part of a message from the beginning of its sentence on."""
    return range(_sentence_start(message, part.start), part.stop)


def _sentence_start(message: Message, at: int) -> int:
    while at > 0 and not message.ends_sentence(at - 1):
        at -= 1
    return at


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
_POLITE: Final = rule_words("opens_politely")


#: Words with which something may happen, or a time is told by it: "once Ink has molted remind me".
_PERHAPS: Final = frozenset({"cond", "future"})


_IF: Final = rule_words("at_a_time")


#: Words that what they lead to belongs to: "Ink ate just".
_LEADS_ON: Final = rule_words("leads_to_an_order")


def _joint(message: Message, at: int) -> bool:
    """Whether a word or mark joins what follows to what was said before."""
    if message.tokens[at].text == ",":
        return True
    senses = message.senses(at)
    return any(s.cat in {"so", "and", "then"} for s in senses)


def _tells(message: Message, part: range) -> bool:
    verbs = [i.senses["verb"] for i in message.items([part]) if "verb" in i.senses]
    return any(not (verb.group.base or verb.group.weak) for verb in verbs)
