"""Clauses that name no animal and tell nothing alone: what they say holds for the clause before them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Final

from bot.reading.clauses.clause_model import AND, SENTENCE
from bot.reading.clauses.days_beside import another_day, bounds_a_stretch, dated, doubts_the_day, lists_days
from bot.reading.clauses.days_of_another import of_another_event
from bot.reading.clauses.figures import count_figures
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.days import DaySpan, Strength
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What a clause says of the one before it.
_HOLDS: frozenset[str] = frozenset({"each", "hedge", "which", "bound", "cond", "report", "future"})
_TELLS_OF_NO_DAY: frozenset[str] = frozenset({"future", "cond", "undone", "report"})


def one_more_on_another_day(prev: Frame, frame: Frame) -> bool:
    """ "ate a superworm mon and another weds": one more of that prey, and a day of its own for each."""
    only = all(i.cat == "D" or i.text in _ANOTHER or "on" in i.senses for i in frame.clause.items)
    one = len(prev.meals) == 1 and prev.meals[0].count == 1 and not prev.loose
    said = any(i.text in _ANOTHER for i in frame.clause.items)
    return only and said and one and dated(frame) and dated(prev) and another_day(prev, frame)


_ANOTHER: Final = rule_words("another")


def people_beside(prev: Frame, frame: Frame) -> None:
    """From whom and to whom: "bought a sling, from Marta"."""
    prev.from_words = prev.from_words or frame.from_words
    prev.to_words = prev.to_words or frame.to_words


def words_beside(prev: Frame, frame: Frame) -> None:
    """Doubts, strange words, lengths of time and things said of what was just told."""
    prev.flags |= {"hedge"} if "or" in frame.clause.items[0].senses else set()
    prev.flags |= frame.flags & _HOLDS
    prev.unknown += frame.unknown
    count_figures(prev)  # "weighed Ink, 18.4"
    prev.periods += frame.periods
    prev.nouns |= frame.nouns & {"dish", "sub"}


def before_that_day(days: Sequence[DaySpan], said: Sequence[DaySpan]) -> list[DaySpan]:
    """ "fed Ink yesterday, the day before Bess": the day before the one that was just told."""
    known = len(said) == 1 and said[0].day is not None and not said[0].doubt
    if not known or len(days) != 1 or days[0].rule != "the day before":
        return list(days)
    assert said[0].day is not None
    return [replace(days[0], day=said[0].day - timedelta(days=1), doubt=None, options=())]


def tells_of_no_day(frame: Frame) -> bool:
    """Whether a clause's day is of what may be, or of what somebody says."""
    return not frame.flags.isdisjoint(_TELLS_OF_NO_DAY)


def says_only_when(frame: Frame) -> bool:
    """Whether a clause is a day and no more: the second of "Old Bess, on Monday, refused"."""
    return bool(frame.days) and all(i.cat == "D" or "on" in i.senses for i in frame.clause.items)


def _of_an_event(prev: Frame, frame: Frame) -> bool:
    """ "12.5 cm after her last molt, May 3": a day behind another event than the one told."""
    items = prev.clause.items
    return of_another_event([*items, frame.clause.items[0]], len(items)) is not None


def _only_thinks_when(frame: Frame) -> bool:
    """ "Ink ate, I think yesterday": no more than a day, and that it is not sure."""
    said = (item for item in frame.clause.items if item.cat != "D")
    return "hedge" in frame.flags and all(not _THINKS.isdisjoint(item.senses) for item in said)


_THINKS: Final = frozenset({"hedge", "self", "on", "the"})


def _tells_something_else(frame: Frame) -> bool:
    """ "Ink ate. The expo is on 20 November": the day of a sentence of its own, on something else."""
    said = (item for item in frame.clause.items if item.cat in "WU")
    return frame.clause.sep == SENTENCE and not all(_SMALL & item.senses.keys() for item in said)


#: Senses of what may stand beside the day of what was just told: "That was on 3 May".
_SMALL: Final = frozenset(
    {"did", "on", "the", "pron", "self", "fill", "hedge", "fix", "neg", "no", "yes", "and", "a"}
)


def day_beside(prev: Frame, frame: Frame) -> None:
    """The day of what was just told, or one more of its days."""
    if tells_of_no_day(frame):
        prev.flags |= {"loose day"} if doubts_the_day(frame) else set()
    elif lists_days(prev, frame) or one_more_on_another_day(prev, frame):
        prev.days = [*prev.days, *frame.days]
        either = frame.clause.by == "/"  # "fed Ink mon/tues": on one of them, or on both
        prev.flags.add("loose day" if either or bounds_a_stretch(prev) else "days listed")
    elif not prev.days:
        prev.days = frame.days
        of_another = bool(frame.prons and (frame.nouns or frame.unknown))  # "he made a web last night"
        weak = frame.clause.sep == AND and all(d.strength == Strength.WEAK for d in frame.days)
        of_another = of_another or _of_an_event(prev, frame) or _tells_something_else(frame)
        collected = Kind.LEFT in kinds(prev) and bool(frame.unknown)  # "sold, pickup Saturday"
        if of_another or weak or collected or _only_thinks_when(frame):
            prev.flags.add("loose day")  # "all ate but the third"
    elif says_only_when(frame) and another_day(prev, frame):
        prev.flags.add("loose day")  # "fed Ink yesterday and cleaned Mole, on Monday"
