"""Whom a question is about."""

from __future__ import annotations

from collections.abc import Callable

from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Question
from bot.round.model import SpecimenFacts
from bot.terms import Specimen


def asked_of(turn: Turn, question: Question) -> list[Specimen]:
    """The animals a question names, or those of its species; all living ones where it names none."""
    if question.specimens:
        return turn.animals(question.specimens)
    if question.species:
        return [animal for animal in turn.shelf.specimens if animal.species == question.species]
    return list(turn.shelf.specimens)


def named(question: Question) -> bool:
    """Whether the question is about certain animals rather than the whole shelf."""
    return bool(question.specimens or question.species)


def facts_of(
    turn: Turn, question: Question, wanted: Callable[[SpecimenFacts], bool] = lambda _facts: True
) -> list[SpecimenFacts]:
    """What is known of the living animals a question is about, those that ``wanted`` says yes to."""
    if not named(question):
        return [facts for facts in turn.facts.all() if wanted(facts)]
    found = [turn.facts.get(animal.tag) for animal in asked_of(turn, question)]
    return [facts for facts in found if facts is not None and wanted(facts)]


def empty_shelf(turn: Turn) -> str | None:
    """One line for a shelf with nobody on it; ``None`` where there is somebody."""
    return None if turn.shelf.specimens else say("answer.empty_shelf")
