"""Questions answered: from the keeper's own records first, with dates and days ago."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from bot.conversation.answers import ahead, past, present
from bot.conversation.model import Reply
from bot.conversation.turn import Turn
from bot.reading.model import Question, Reading, Topic

ANSWERS: Final[dict[Topic, Callable[[Turn, Question], list[Reply]]]] = {
    Topic.LAST: past.last,
    Topic.DUE: ahead.due,
    Topic.HISTORY: past.history,
    Topic.STATUS: present.status,
    Topic.SEALED_NOW: present.sealed_now,
    Topic.PREMOLT_NOW: present.premolt_now,
    Topic.NOT_EATEN: past.not_eaten,
    Topic.SIZE: present.size,
    Topic.NEXT_MOLT: ahead.next_molt,
    Topic.MOLT_INTERVAL: past.molt_interval,
    Topic.SHOPPING: ahead.shopping,
    Topic.COUNT: present.count,
    Topic.REHOUSE_DUE: ahead.rehouse_due,
    Topic.SPECIES_SUMMARY: present.species_summary,
    Topic.WHERE: present.where,
}


def answer(turn: Turn, question: Question) -> list[Reply]:
    """The answer to a question; the animal it is about is then the one talked of."""
    if len(question.specimens) == 1:
        turn.remember(of=question.specimens[0])
    return ANSWERS[question.topic](turn, question)


def answer_reading(turn: Turn, reading: Reading) -> list[Reply]:
    """The answer to a message that is a question."""
    assert reading.question is not None
    return answer(turn, reading.question)
