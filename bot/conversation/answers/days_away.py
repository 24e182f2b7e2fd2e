"""The days that a question means by "while I am away": those of the hand-over that it can be about."""

from __future__ import annotations

from bot.conversation.turn import Turn
from bot.reading.model import Question, Topic
from bot.reading.questions.stretches import Stretch


def of_question(turn: Turn, question: Question) -> Stretch | None:
    """The days of the next hand-over for what is to come, of the latest begun for what was; else ``None``."""
    if turn.helps:
        return None
    agreed = turn.work.handovers.of_shelf(turn.shelf_id)
    if question.topic in _TO_COME:
        ahead = [one for one in agreed if one.last > turn.today]
        soonest = min(ahead, key=lambda one: one.first, default=None)
        return None if soonest is None else Stretch(max(soonest.first, turn.today), soonest.last)
    begun = [one for one in agreed if one.first <= turn.today and one.first <= one.last]
    latest = max(begun, key=lambda one: one.first, default=None)
    return None if latest is None else Stretch(latest.first, min(latest.last, turn.today))


_TO_COME = frozenset({Topic.DUE, Topic.SHOPPING})
