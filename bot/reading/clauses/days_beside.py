"""Whether the days of two clauses are one."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.model import FEEDING
from bot.reading.words.phrasings import word_set
from bot.reading.words.rule_words import rule_words


def another_day(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink on Monday and Biscuit on Tuesday": each has a day of its own."""
    days = {(d.day, d.time, d.doubt) for d in frame.days}
    return bool(days) and bool(prev.days) and days != {(d.day, d.time, d.doubt) for d in prev.days}


def dated(frame: Frame) -> bool:
    """ "Ink mon": a day is said in the clause itself."""
    return bool(frame.days) and any(i.cat == "D" for i in frame.clause.items)


def of_another_event_and_animal(prev: Frame, frame: Frame) -> bool:
    """ "Ink molted on Monday, Mole ate": that day or today? "On Monday Ink molted, Mole ate" says of both."""
    before, now = kinds(prev), kinds(frame)
    named = bool(prev.ref_at) and bool(frame.ref_at) and not (prev.inherited or frame.inherited)
    behind = dated(prev) and prev.clause.items[0].cat != "D"
    meals = before | now <= FEEDING
    return named and behind and bool(before and now) and before.isdisjoint(now) and not meals


def lists_days(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink on Monday and Tuesday", "… this morning and tonight": a day behind a day, or parts of it."""
    small = ("on", "the")
    items = frame.clause.items[1:] if _hour_of_a_part(prev, frame) else frame.clause.items
    only = len(frame.days) == 1 and all(
        i.cat == "D" or i.text in _AGAIN or any(c in i.senses for c in small) for i in items
    )
    ends = bool(prev.verbs) and prev.clause.items[-1].cat == "D" and bool(prev.days)
    then = frame.clause.sep in {AND, COMMA} or (frame.clause.items[0].cat != "D" and not frame.clause.titled)
    return only and ends and then and (another_day(prev, frame) or _another_part(prev, frame))


_AGAIN: Final = rule_words("again")


def _hour_of_a_part(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink at 8 this morning and 9 tonight": a bare number that is an hour, as the one before it was."""
    first = frame.clause.items[0]
    timed = (
        any(d.time is not None for d in prev.days) and not prev.loose and not any(m.count for m in prev.meals)
    )
    return first.cat == "N" and timed and first.val.value in range(1, 13) and bool(_parts(frame))


def _another_part(prev: Frame, frame: Frame) -> bool:
    """ "this morning and tonight": two parts of one day."""
    before, now = _parts(prev), _parts(frame)
    return bool(before) and bool(now) and before.isdisjoint(now)


def _parts(frame: Frame) -> set[str]:
    return {d.part for d in frame.days if d.part is not None}


def bounds_a_stretch(frame: Frame) -> bool:
    """ "molted between Monday and Wednesday": one day of a stretch, and not both of its ends."""
    items = frame.clause.items
    return any(b.cat == "D" and a.text in word_set("before_two_days") for a, b in pairwise(items))


def doubts_the_day(frame: Frame) -> bool:
    """ "fed Ink, unless that was yesterday"."""
    opens = "cond" in frame.clause.items[0].senses
    return opens and "future" not in frame.flags and "did" in frame.flags


def dates_them_all(told: Sequence[Frame], frame: Frame) -> bool:
    """ "Ink refused, Mole ate, both yesterday": the day of those told before, which said none."""
    items = frame.clause.items
    both = "both" in items[0].senses or items[0].text in _ALL
    only = len(items) > 1 and all(i.cat == "D" or "on" in i.senses for i in items[1:])
    if not (both and only and frame.days) or len(told) < 2 or any(map(dated, told)):
        return False
    for other in told:
        other.days = frame.days
    return True


_ALL: Final = rule_words("all_of_what_was_told")
