"""The day behind the last of several things told with "and": "fed and watered Ink yesterday". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA
from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.items.item import words_in
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What may be told as it is now, whatever the day of something else behind it: "sealed and ate Monday".
_STATES: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.MATURED, Kind.CHECKED})
#: Words by which the clause of the day is apart in time: "is sealed and last ate on Monday".
_APART: Final = rule_words("apart_in_time")


def day_behind_all(told: Sequence[Frame]) -> None:
    """Gives the day of a last clause to those before it that say none, or marks it as one to ask about.

    It is theirs where the last goes on with their animals or their verb, and asked where it tells something
    else of others: "fed Ink and Mole molted yesterday".
    """
    for at in range(len(told) - 1, 0, -1):
        if told[at].clause.sep == AND and _ends_with_its_day(told[at]):
            _give_back(told, at)


def _give_back(told: Sequence[Frame], at: int) -> None:
    last = told[at]
    for place in range(at - 1, -1, -1):
        before, behind = told[place], told[place + 1]
        joined = behind.clause.sep == AND or (behind.clause.sep == COMMA and place < at - 1)
        if joined and _between_two_days(before, last):
            before.flags.add("loose day")
        if not joined or not _waits_for_a_day(before):
            return
        of_both = _goes_on(before, last)
        if not of_both and last.days[0].implied:
            return  # "fed Ink and watered Mole at 8"
        before.days = last.days
        before.flags |= set() if of_both else {"day of another"}


def _between_two_days(before: Frame, last: Frame) -> bool:
    """ "fed Ink a roach on Sunday, Mole a cricket and Twig a moth on Monday": Mole's may be either."""
    listed = before.inherited and last.inherited and bool(before.meals)
    return listed and bool(before.days) and not dated(before)


def day_of_the_names_before(frames: Sequence[Frame]) -> None:
    """ "fed Ink on Sunday, Mole and Twig on Monday": Mole's is the day of the list that it opens."""
    for at in range(len(frames) - 1, 1, -1):
        if frames[at].clause.sep == AND and dated(frames[at]) and _names_alone(frames[at]):
            _date_the_list(frames, at)


def _date_the_list(frames: Sequence[Frame], at: int) -> None:
    first = at
    while first and frames[first - 1].clause.sep in {COMMA, AND} and _undated_names(frames[first - 1]):
        first -= 1
    if first == at or not first or not dated(frames[first - 1]) or not frames[first - 1].verbs:
        return
    for frame in frames[first : at + 1]:
        frame.days = frames[at].days
        frame.verbs, frame.inherited = frames[first - 1].verbs, True


def _undated_names(frame: Frame) -> bool:
    return _names_alone(frame) and not frame.days


def _names_alone(frame: Frame) -> bool:
    """Names, and perhaps a day, and nothing that tells of them."""
    return bool(frame.ref_at) and all(item.cat in "SD" for item in frame.clause.items)


def _ends_with_its_day(frame: Frame) -> bool:
    """One day, said at the end of what was told with no word that sets it apart from what came before."""
    told = bool(frame.verbs or frame.meals) and not frame.idle and "future" not in frame.flags
    *before, last = frame.clause.items
    ends = last.cat == "D" and len(frame.days) == 1
    return told and ends and dated(frame) and _APART.isdisjoint(words_in(before))


def _waits_for_a_day(frame: Frame) -> bool:
    """Something that happened is told, with no day and no length of time."""
    happened = bool(frame.verbs) and not frame.idle and not frame.flags & {"did", "future"}
    return happened and not frame.days and not frame.periods and not frame.inherited


def _goes_on(before: Frame, last: Frame) -> bool:
    """Whether the last clause goes on with the animals or the verb of the one before."""
    if kinds(before) & _STATES and not kinds(last) & _STATES:
        return False
    of_its_own = bool(before.ref_at) and bool(last.ref_at)
    opens = "pron" in last.clause.items[0].senses  # "fed Ink and she molted yesterday"
    return last.inherited or not (of_its_own or opens)
