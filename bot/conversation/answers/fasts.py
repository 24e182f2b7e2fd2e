"""The longest that animals went without a meal: "what's the longest anyone fasted"."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from itertools import pairwise
from typing import Final, NamedTuple

from bot.conversation import wording
from bot.conversation.answers.subject import never_kept
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind

#: So many are told of where nobody is named.
_TOLD: Final = 5


class _Fast(NamedTuple):
    """From one meal to the next, or to today where it goes on."""

    days: int
    first: date
    last: date
    goes_on: bool


def fasts(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The longest gap between two meals of each, the longest first; of whom it goes on, that it does.

    What lies before the first meal on record counts for nothing.
    """
    named = asked_about(turn, wanted)
    animals = named or turn.shelf.specimens
    meals = _meals(turn, [animal.tag for animal in animals])
    found = {
        animal.called: fast
        for animal in animals
        if (fast := _longest(sorted(meals[animal.tag]), turn.today)) is not None
    }
    if not found:
        nothing = say("fasts.none", who=wording.called(named, most=_TOLD) or say("answer.shelf"))
        return [turn.reply(never_kept(turn) or nothing)]
    ordered = sorted(found.items(), key=lambda one: -one[1].days)
    told = ordered if named else ordered[:_TOLD]
    return [fit(turn, "\n".join([say("fasts.head"), *(_line(turn, who, fast) for who, fast in told)]))]


def _meals(turn: Turn, tags: Collection[str]) -> Mapping[str, set[date]]:
    """The days of the meals of each animal."""
    found = defaultdict[str, set[date]](set)
    for row in turn.work.journal.entries(turn.shelf_id, tags=tags, kinds=(Kind.FED,)):
        for tag in row.entry.specimens:
            found[tag].add(row.entry.day)
    return found


def _longest(meals: list[date], today: date) -> _Fast | None:
    ended = [_Fast((after - before).days, before, after, goes_on=False) for before, after in pairwise(meals)]
    going_on = [_Fast((today - day).days, day, today, goes_on=True) for day in meals[-1:]]
    return max((*ended, *going_on), key=lambda fast: fast.days, default=None)


def _line(turn: Turn, who: str, fast: _Fast) -> str:
    days = wording.days(fast.days)
    first = wording.date_of(fast.first, turn.today)
    if fast.goes_on:
        return say("fasts.goes_on", who=who, days=days, first=first)
    return say("fasts.ended", who=who, days=days, first=first, last=wording.date_of(fast.last, turn.today))
