"""How to do a thing with the bot or at the shelf, and what general practice says: one short text for each."""

from __future__ import annotations

from collections.abc import Iterator

from bot.conversation import wording
from bot.conversation.answers.subject import spans_between
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry import practice
from bot.reading.wanted.wanted import Instruction


def how_to(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How a thing is done, with an animal of the shelf in the examples."""
    return [turn.reply(say_of("how_to", wanted.value or "undo", who=turn.example))]


def rule(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What is common practice of a matter; of the first meal after a molt the days by span."""
    matter = wanted.value or "first_meal"
    days = _first_meals(turn) if matter == "first_meal" else ()
    return [fit(turn, "\n".join([say_of("rules", matter, who=turn.example), *days]))]


def _first_meals(turn: Turn) -> Iterator[str]:
    """The days from a molt to the first meal, for each span."""
    for first, last, figure in practice.rows_of_spans(practice.FIRST_MEAL_AFTER_MOLT):
        days = say("calendar.span", first=round(figure.low), last=wording.days(round(figure.high)))
        yield say("answer.card", who=spans_between(turn, first, last), what=days)
