"""Where an animal is from, since when it is here, and what stands in for its age, which is on no record."""

from __future__ import annotations

from datetime import date

from bot.conversation import wording
from bot.conversation.answers.past import last
from bot.conversation.answers.subject import alike
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.reading.model import Question, Topic
from bot.reading.wanted.wanted import Instruction
from bot.round.model import SpecimenFacts
from bot.terms import Kind, Specimen


def origin(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Of each animal asked about the arrival on record, else since when there is a record of it.

    ``value`` is what was asked: ages and instars are on no record, and the molts that are stand in for them.
    """
    turn.facts.fetch(wanted.tags)
    asked = wanted.value or "from"
    lines = [say_of("origin.ahead", asked)] if has("origin.ahead", asked) else []
    for animal in asked_about(turn, wanted):
        lines.append(_arrival(turn, animal))
        if lines[0] != lines[-1] and has("origin.ahead", asked):
            lines.append(_molts(turn, animal))
    return [fit(turn, "\n".join(filter(None, lines)))]


def went(turn: Turn, wanted: Instruction) -> list[Reply]:
    """To whom animals went, and when; of those that never did, since when there is a record of them."""
    tags = tuple(animal.tag for animal in asked_about(turn, wanted))
    return last(turn, Question(topic=Topic.LAST, kind=Kind.LEFT, specimens=tags))


def _arrival(turn: Turn, animal: Specimen) -> str:
    row = turn.work.journal.last(turn.shelf_id, animal.tag, (Kind.ACQUIRED,))
    if row is not None:
        day = wording.day_and_ago(row.entry.day, turn.today)
        return say("last.found", who=animal.called, what=turn.told(row.entry), day=day)
    facts = turn.facts.get(animal.tag)
    since = here_since(facts) if facts is not None else None
    if since is None:
        return say("last.never", who=animal.called, what=say_of("thing", Kind.ACQUIRED.value))
    return say("origin.at_latest", who=animal.called, day=wording.day_and_ago(since, turn.today))


def _molts(turn: Turn, animal: Specimen) -> str:
    rows = turn.work.journal.entries(turn.shelf_id, tags=(animal.tag,), kinds=alike(Kind.MOLTED))
    facts = turn.facts.get(animal.tag)
    if facts is None:
        return ""
    stage = say_of("stages", Animal(facts.specimen, facts.state).stage.value)
    return say("origin.molts", who=animal.called, stage=stage, molts=wording.counted(len(rows), "molt"))


def here_since(facts: SpecimenFacts) -> date | None:
    """The first day of which anything of an animal is on record."""
    days = [day for day in (facts.added_on, facts.state.first_entry) if day is not None]
    return min(days, default=None)
