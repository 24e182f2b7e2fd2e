"""Questions answered: from the keeper's own records first, with dates and days ago."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from bot.conversation.answers import (
    ahead,
    climate,
    days_away,
    growing,
    housing,
    kept,
    meals,
    past,
    present,
    shopping,
    spending,
    without,
)
from bot.conversation.answers.subject import asked_of
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading import reading_from_store, reading_to_store
from bot.reading.model import Question, Reading, ReadingKind, Topic
from bot.reading.questions.stretches import Stretch, stretch_alone
from bot.reading.short_answers import is_follow_up, is_the_others
from bot.reading.wanted.days_away import asks_of_days_away
from bot.reading.wanted.strangers import strangers

ANSWERS: Final[dict[Topic, Callable[[Turn, Question], list[Reply]]]] = {
    Topic.LAST: past.last,
    Topic.DUE: ahead.due,
    Topic.HISTORY: past.history,
    Topic.STATUS: present.status,
    Topic.SEALED_NOW: present.sealed_now,
    Topic.PREMOLT_NOW: present.premolt_now,
    Topic.NOT_EATEN: without.not_eaten,
    Topic.SIZE: kept.size,
    Topic.GROWTH: growing.growth,
    Topic.MATURITY: growing.maturity,
    Topic.HOME: housing.home,
    Topic.NEXT_MOLT: ahead.next_molt,
    Topic.MOLT_INTERVAL: past.molt_interval,
    Topic.SHOPPING: shopping.shopping,
    Topic.STOCK: shopping.stock,
    Topic.COUNT: kept.count,
    Topic.REHOUSE_DUE: ahead.rehouse_due,
    Topic.SPECIES_SUMMARY: kept.species_summary,
    Topic.WHERE: kept.where,
    Topic.CLIMATE: climate.climate,
    Topic.SPENDING: spending.spending,
    Topic.MEAL: meals.fitting,
    Topic.NOT_SINCE: without.not_since,
}


#: Questions that may name an animal; where they name one that nobody here is, that is the answer.
_OF_ANIMALS: Final = frozenset(
    {
        Topic.LAST,
        Topic.DUE,
        Topic.MEAL,
        Topic.HISTORY,
        Topic.STATUS,
        Topic.SEALED_NOW,
        Topic.PREMOLT_NOW,
        Topic.SIZE,
        Topic.GROWTH,
        Topic.MATURITY,
        Topic.HOME,
        Topic.NEXT_MOLT,
        Topic.MOLT_INTERVAL,
        Topic.WHERE,
    }
)


#: Questions that can be answered of a species that nobody here is of.
_OF_ANY_SPECIES: Final = frozenset({Topic.SPECIES_SUMMARY, Topic.COUNT})


def answer(turn: Turn, question: Question) -> list[Reply]:
    """The answer to a question; the animal it is about is then the one talked of."""
    if not (question.specimens or question.species) and question.topic in _OF_ANIMALS:
        unknown = strangers(turn.incoming.text, turn.shelf.names, turn.settings.language)
        if unknown:
            return [turn.reply(say("answer.stranger", words=unknown[0]))]
    if question.species and question.topic not in _OF_ANY_SPECIES and not asked_of(turn, question):
        return [turn.reply(say("answer.none_of_species", species=question.species))]
    if question.topic is Topic.STATUS and is_follow_up(turn.incoming.text):
        question = _as_before(turn, question)
    if len(question.specimens) == 1:
        turn.remember(of=question.specimens[0])
    if question.since is None and asks_of_days_away(turn.incoming.text, turn.settings.language):
        away = days_away.of_question(turn, question)
        if away is None:
            return [turn.reply(say("answer.no_days_away"))]
        question = replace(question, since=away.first, until=away.last)
    turn.remember(asked=_to_dialog(question))
    return ANSWERS[question.topic](turn, question)


def asked_on(turn: Turn) -> list[Reply] | None:
    """ "Since March?", "and the others?" after a question, or a day alone; ``None`` where it is neither."""
    before = _from_dialog(turn)
    if before is not None and is_the_others(turn.incoming.text):
        rest = tuple(a.tag for a in turn.shelf.specimens if a.tag not in before.specimens)
        return answer(turn, replace(before, specimens=rest, species=None)) if before.specimens else None
    if before is not None and before.topic is not Topic.DUE:
        past_days = _days_alone(turn)
        if past_days is not None:
            topic = Topic.HISTORY if before.topic is Topic.LAST else before.topic
            return answer(turn, replace(before, topic=topic, since=past_days.first, until=past_days.last))
    return _due_on(turn, before)


def _due_on(turn: Turn, before: Question | None) -> list[Reply] | None:
    """ "Tomorrow?", "today": who is due then. A day to come can be asked about nothing else."""
    who = before.specimens if before is not None and before.topic is Topic.DUE else ()
    days = _days_alone(turn, ahead=True)
    if days is not None:
        return answer(turn, Question(topic=Topic.DUE, specimens=who, since=days.first, until=days.last))
    if _days_alone(turn) == (turn.today, turn.today):
        return answer(turn, Question(topic=Topic.DUE, specimens=who))
    return None


def _days_alone(turn: Turn, *, ahead: bool = False) -> Stretch | None:
    return stretch_alone(
        turn.incoming.text, turn.shelf.names, now=turn.now, settings=turn.settings, ahead=ahead
    )


def _as_before(turn: Turn, question: Question) -> Question:
    """ "And Rust?" asks of Ink what was asked before; without a question before, how she is."""
    before = _from_dialog(turn)
    if before is None:
        return question
    return replace(before, specimens=question.specimens, species=question.species)


def _to_dialog(question: Question) -> dict[str, Any]:
    kept: dict[str, Any] = reading_to_store(Reading(reading=ReadingKind.QUESTION, question=question))[
        "question"
    ]
    return kept


def _from_dialog(turn: Turn) -> Question | None:
    """The question answered last in this conversation."""
    asked = turn.dialog.get("asked")
    if not isinstance(asked, dict):
        return None
    return reading_from_store({"reading": ReadingKind.QUESTION.value, "question": asked}).question


def answer_reading(turn: Turn, reading: Reading) -> list[Reply]:
    """The answer to a message that is a question."""
    assert reading.question is not None
    return answer(turn, reading.question)
