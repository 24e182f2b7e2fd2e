"""Whom a question is about."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from bot.conversation import wording
from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.journal import MOLT_KINDS
from bot.reading.model import Question
from bot.round.model import SpecimenFacts
from bot.terms import Kind, Specimen
from storage.outlook_shelf import read_for_outlooks

if TYPE_CHECKING:
    from bot.husbandry.outlook_record import OutlookRecord


def asked_of(turn: Turn, question: Question) -> list[Specimen]:
    """The animals a question names, or those of its species; all living ones where it names none."""
    if question.specimens:
        return turn.animals(question.specimens)
    if question.species:
        return [animal for animal in turn.shelf.specimens if animal.species == question.species]
    return list(turn.shelf.specimens)


def alike(kind: Kind) -> Collection[Kind]:
    """What counts as the thing asked for: an ultimate molt is a molt."""
    return MOLT_KINDS if kind is Kind.MOLTED else (kind,)


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


def not_living(turn: Turn, question: Question) -> str:
    """What became of an animal that a question is about and that does not live here now."""
    animals = asked_of(turn, question)
    found = what_became_of(turn, animals[0]) if animals else ""
    return found or say("answer.none_of_species", species=question.species or "")


def what_became_of(turn: Turn, animal: Specimen) -> str:
    """That an animal died or left, and when; empty where that is not on record."""
    last = turn.work.journal.last(turn.shelf_id, animal.tag, (Kind.DIED, Kind.LEFT))
    if last is None:
        return ""
    day = wording.day_and_ago(last.entry.day, turn.today)
    return say("last.found", who=animal.called, what=turn.told(last.entry), day=day)


def empty_shelf(turn: Turn) -> str | None:
    """One line for a shelf with nobody on it; ``None`` where there is somebody."""
    return None if turn.shelf.specimens else say("answer.empty_shelf")


def never_kept(turn: Turn) -> str | None:
    """The same line where nobody ever stood on the shelf, so that nothing can be on record of anybody."""
    return None if turn.shelf.gone else empty_shelf(turn)


def outlook_records(turn: Turn) -> Sequence[OutlookRecord]:
    """Every living animal for a forecast: each learns from the others, so all of the shelf is looked at."""
    return read_for_outlooks(turn.work, turn.shelf_id, on=turn.today)


def thing(kind: Kind | None, prey: str | None = None) -> str:
    """What is asked about, as a thing of which there is a record or none."""
    thing = say_of("thing", kind.value) if kind and has("thing", kind.value) else say("answer.anything")
    return say("last.of_prey", thing=thing, prey=wording.meal(prey, None, None)) if prey else thing


def spans_between(turn: Turn, first: float, last: float) -> str:
    """ "below 2 cm", "2 cm to 4 cm", "from 17 cm on": a row of a table that goes by span."""
    low, high = (
        wording.length(Decimal(str(end)), turn.settings.units) if end != float("inf") else ""
        for end in (first, last)
    )
    if not first:
        return say("spans.below", high=high)
    return say("calendar.span", first=low, last=high) if high else say("spans.above", low=low)
