"""Who of the shelf is one of some: of a world, of a sex, here for long, at rest; and animals side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from bot.conversation import wording
from bot.conversation.answers import kept, present
from bot.conversation.answers.most import gain_of, told_gain
from bot.conversation.answers.origin import here_since
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.reasons import rest_sentence
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.species.worlds import World, world_of
from bot.reading.model import Question, Topic
from bot.reading.wanted.wanted import Instruction
from bot.round.model import RestReason, SpecimenFacts
from bot.round.worklist import rest_of
from bot.terms import Sex, Stage

_MOST_NAMES: Final = 30
#: So many of those who have been here longest, or shortest, are told.
_TOLD: Final = 5


def worlds(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who is of the Old or the New World, by genus; and of whom the table does not know."""
    of = {world: [f for f in turn.facts.all() if world_of(f.specimen.species) is world] for world in World}
    strangers = [f for f in turn.facts.all() if world_of(f.specimen.species) is None]
    asked = World(wanted.value or World.OLD)
    other = World.NEW if asked is World.OLD else World.OLD
    lines = [_head("worlds", asked.value, of[asked]), _number("worlds", other.value, of[other])]
    if strangers:
        lines.append(say("who_of_all.no_world", names=kept.names_of(strangers, _MOST_NAMES)))
    return _told(turn, lines)


def sexes(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who is of a sex, or not sexed yet."""
    of = {sex: [f for f in turn.facts.all() if _sex(f) is sex] for sex in Sex}
    asked = Sex(wanted.value or Sex.UNKNOWN)
    lines = [_head("of_sex", asked.value, of[asked])]
    if asked is not Sex.UNKNOWN:
        lines.append(_number("of_sex", Sex.UNKNOWN.value, of[Sex.UNKNOWN]))
    return _told(turn, lines)


def _sex(facts: SpecimenFacts) -> Sex:
    animal = Animal(facts.specimen, facts.state)
    return Sex.MALE if animal.stage is Stage.MATURE_MALE else animal.sex


def _head(of: str, which: str, found: Sequence[SpecimenFacts]) -> str:
    """How many there are, and who they are."""
    if not found:
        return _number(of, which, found)
    return say("who_of_all.these", what=_number(of, which, found), names=kept.names_of(found, _MOST_NAMES))


def _number(of: str, which: str, found: Sequence[SpecimenFacts]) -> str:
    n = kept.number_of(found)
    return (
        say_of("who_of_all.worlds", which, n=n) if of == "worlds" else say_of("who_of_all.sexes", which, n=n)
    )


def _told(turn: Turn, lines: Sequence[str]) -> list[Reply]:
    return [fit(turn, empty_shelf(turn) or "\n".join(lines))]


def tenure(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who has been here longest, or came last, by the record: ages are on none."""
    since = [(day, facts) for facts in turn.facts.all() if (day := here_since(facts)) is not None]
    newest = wanted.value == "newest"
    since.sort(key=lambda one: one[0], reverse=newest)
    lines = [say("who_of_all.newest") if newest else say("who_of_all.longest")]
    lines += [
        say("answer.card", who=facts.specimen.called, what=wording.day_and_ago(day, turn.today))
        for day, facts in since[:_TOLD]
    ]
    return _told(turn, lines)


#: Reasons for a rest that are asked about by themselves.
_ONE_REASON: Final = frozenset({RestReason.SETTLING.value, RestReason.MISSING.value})


def at_rest(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who is left in peace and why; of those who settle in, until when."""
    rests = [rest for facts in turn.facts.all() if (rest := rest_of(facts, turn.today)) is not None]
    nobody = say("who_of_all.nobody_rests")
    if wanted.value in _ONE_REASON:
        rests = [rest for rest in rests if rest.reason.value == wanted.value]
        nobody = say_of("who_of_all.nobody", wanted.value)
    lines = [
        say("answer.card", who=turn.called(rest.tag), what=rest_sentence(rest, turn.today, turn.settings))
        for rest in rests
    ]
    return _told(turn, lines or [nobody])


# --- side by side -----------------------------------------------------------------------------


def compare(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Last meal, last molt, days between molts, span and growth of two or three animals, a line for each."""
    turn.facts.fetch(wanted.tags)
    found = [facts for tag in wanted.tags if (facts := turn.facts.get(tag)) is not None]
    lines = []
    for key, told in _COMPARED.items():
        each = [
            f"{facts.specimen.called} {told(turn, facts) or say('who_of_all.unknown')}" for facts in found
        ]
        lines.append(say("answer.card", who=say_of("who_of_all.compared", key), what="; ".join(each)))
    return [fit(turn, "\n".join(lines))]


def _day(turn: Turn, day: date | None) -> str:
    return wording.day_and_ago(day, turn.today) if day is not None else ""


def _span(turn: Turn, facts: SpecimenFacts) -> str:
    span = kept.span_cm(facts)
    return wording.length(span, turn.settings.units) if span else ""


def _between(_turn: Turn, facts: SpecimenFacts) -> str:
    return wording.days(facts.state.last_interval) if facts.state.last_interval else ""


def _growth(turn: Turn, facts: SpecimenFacts) -> str:
    found = gain_of(turn, facts.specimen.tag)
    return told_gain(turn, found) if found is not None else ""


_COMPARED: Final[dict[str, Callable[[Turn, SpecimenFacts], str]]] = {
    "meal": lambda turn, facts: _day(turn, facts.state.last_fed),
    "molt": lambda turn, facts: _day(turn, facts.state.last_molted),
    "between": _between,
    "span": _span,
    "growth": _growth,
}


def stats(turn: Turn, wanted: Instruction) -> list[Reply]:
    """An animal's card."""
    return present.status(turn, Question(topic=Topic.STATUS, specimens=wanted.tags))
