"""What is told without being asked for, and what is on no record: "remind me when Basalt opens", parents."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.answers import ahead
from bot.conversation.answers.concern import worries
from bot.conversation.answers.past import last
from bot.conversation.answers.shopping import shopping
from bot.conversation.answers.spending import spending
from bot.conversation.answers.tally import tally
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.next_up import rest_line
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn
from bot.reading.model import Question, Topic
from bot.reading.questions.stretches import stretch_alone
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind

#: When a look is offered, where nobody but the keeper can see that it has happened.
_LOOK_IN_DAYS: Final = 7


def say_when(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who learns of it from whom; of what only the keeper can see a reminder to look is offered."""
    turn.facts.fetch(wanted.tags)
    event = wanted.value or "opens"
    animals = asked_about(turn, wanted)
    who, example = wording.called(animals, most=4), animals[0].name or animals[0].tag
    text = say_of("unasked.when", event, who=who, example=example)
    if event == "due":
        return [turn.reply(text), *ahead.due(turn, Question(topic=Topic.DUE, specimens=wanted.tags))]
    if event == "opens" and len(animals) == 1 and not _is_sealed(turn, animals[0].tag):
        return [turn.reply(say("sealed.no", who=who))]
    rests = [rest_line(turn, tag) for tag in wanted.tags if turn.facts.get(tag) is not None]
    lines = [text, *(rests if len(animals) == 1 else [])]
    day = turn.today + timedelta(days=_LOOK_IN_DAYS)
    look: dict[str, Any] = {
        "do": "remind_on",
        "what": say("unasked.look", who=who),
        "tags": list(wanted.tags),
    }
    yes = Choice(
        say("unasked.remind", day=wording.day_of(day, turn.today)),
        {**look, "day": day.isoformat(), "time": None, "word": "yes"},
    )
    rows = [] if turn.helps else [[yes]]
    return [turn.reply("\n".join(filter(None, lines)), rows, pending={} if rows else None)]


def _is_sealed(turn: Turn, tag: str) -> bool:
    facts = turn.facts.get(tag)
    return facts is not None and facts.state.sealed_since is not None


def losses(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who died, in the time that was said; of what they died stands in notes alone."""
    within = None
    if wanted.rest is not None:
        within = stretch_alone(wanted.rest, turn.shelf.names, now=turn.now, settings=turn.settings)
        if within is None:
            return [turn.reply(say("most.which_days", days=wanted.rest))]
    since, until = within or (None, None)
    replies = tally(turn, Question(topic=Topic.HISTORY, kind=Kind.DIED, since=since, until=until))
    return [*replies, turn.reply(say("unasked.cause"))] if wanted.value else replies


def fasting(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How long animals go without food as a rule, when these last ate, and what to look at."""
    tags = tuple(animal.tag for animal in asked_about(turn, wanted))
    told = last(turn, Question(topic=Topic.LAST, kind=Kind.FED, specimens=tags))
    return [turn.reply(say("not_kept.fasting")), *told, *worries(turn, replace(wanted, tags=tags))]


def lasts(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """How long the feeders will do: what is left beside what is eaten until the next delivery."""
    return shopping(turn, Question(topic=Topic.SHOPPING))


def not_kept(turn: Turn, wanted: Instruction) -> list[Reply]:
    """That a matter is on no record, and what is; beside the worth of animals, what was paid for them."""
    which = wanted.value or "parents"
    paid = spending(turn, Question(topic=Topic.SPENDING)) if which == "worth" else []
    return [turn.reply(say_of("not_kept", which)), *paid]
