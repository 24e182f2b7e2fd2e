"""Who has gone without: without a meal for so long, or without a molt, water or a cleaning."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Final

from bot.conversation import next_up, wording
from bot.conversation.answers.past import day_line, latest_of
from bot.conversation.answers.subject import asked_of, empty_shelf, facts_of, not_living, thing
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Question
from bot.round.model import SpecimenFacts
from bot.terms import Kind

_NOT_EATEN_DAYS: Final = 14
"""Where a question about who has not eaten names no number of days: two weeks, said in the answer."""
_LONGEST: Final = 3
"""So many are told of where everybody has eaten."""


def not_eaten(turn: Turn, question: Question) -> list[Reply]:
    """Who has not eaten for so many days, longest first; those that rest are told apart.

    One without a meal on record has not eaten by the journal, however short that is, and comes first.
    """
    n = _days_without(turn, question)
    everyone = sorted(facts_of(turn, question), key=lambda facts: facts.state.last_fed or date.min)
    latest = turn.today - timedelta(days=n)
    late = [facts for facts in everyone if (facts.state.last_fed or date.min) <= latest]
    resting = [facts for facts in late if next_up.rest_line(turn, facts.specimen.tag)]
    waiting = [facts for facts in late if facts not in resting]
    if not everyone:
        return [turn.reply(empty_shelf(turn) or not_living(turn, question))]
    lines = []
    if not late:
        longest = "; ".join(_hungry_line(turn, facts) for facts in everyone[:_LONGEST])
        lines.append(say("not_eaten.all_ate", days=wording.days(n), longest=longest))
    if waiting:
        lines.append(say("not_eaten.head", days=wording.days(n), n=len(waiting)))
        lines += [_hungry_line(turn, facts) for facts in waiting]
    if resting:
        lines.append(say("not_eaten.resting", n=len(resting)))
        lines += [
            say(
                "not_eaten.at_rest",
                line=_hungry_line(turn, facts),
                rest=next_up.rest_line(turn, facts.specimen.tag),
            )
            for facts in resting
        ]
    return [fit(turn, "\n".join(lines))]


def _days_without(turn: Turn, question: Question) -> int:
    """The days that were said, or those since the day that was."""
    if question.since is not None:
        return max((turn.today - question.since).days, 1)
    return question.days or _NOT_EATEN_DAYS


def not_since(turn: Turn, question: Question) -> list[Reply]:
    """To whom a thing, as a molt or a cleaning, has not happened for so many days; the longest ago first.

    One that it never happened to is told as well, since when there is a record of it is not asked.
    """
    animals = asked_of(turn, question)
    if not animals:
        return [turn.reply(empty_shelf(turn) or not_living(turn, question))]
    kind, days = question.kind or Kind.CHECKED, _days_without(turn, question)
    latest = latest_of(turn, kind)
    ordered = sorted(animals, key=lambda animal: latest.get(animal.tag, date.min))
    over = [a for a in ordered if latest.get(a.tag, date.min) <= turn.today - timedelta(days=days)]
    said = {"what": thing(kind), "days": wording.days(days)}
    if not over:
        return [turn.reply(say("not_since.nobody", **said))]
    lines = [say("not_since.head", n=len(over), **said)]
    return [fit(turn, "\n".join([*lines, *(day_line(turn, animal, kind, latest) for animal in over)]))]


def _hungry_line(turn: Turn, facts: SpecimenFacts) -> str:
    last_fed = facts.state.last_fed
    if last_fed is None:
        return say("not_eaten.never", who=facts.specimen.called)
    return say("not_eaten.line", who=facts.specimen.called, day=wording.day_and_ago(last_fed, turn.today))
