"""What is now: who is sealed or in premolt, and how an animal does."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, Final

from bot.conversation import next_up, quick, wording
from bot.conversation.answers.concern import concern_lines
from bot.conversation.answers.kept import where_line
from bot.conversation.answers.subject import (
    empty_shelf,
    facts_of,
    named,
    not_living,
)
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.condition import condition_of
from bot.husbandry.premolt import perhaps_in_premolt
from bot.reading.model import Question
from bot.reading.wanted.wanted import Instruction
from bot.round.model import SpecimenFacts, TaskKind
from bot.round.worklist import next_for, rest_of
from bot.terms import Sex
from storage.records import Prompt

_STATUS_IN_FULL: Final = 3
"""Up to this many animals are described in full, more on a line each."""


# --- sealed and premolt ---------------------------------------------------------------------


def sealed_now(turn: Turn, question: Question) -> list[Reply]:
    """Who is sealed, since when; of named animals, yes or no."""
    if named(question):
        lines = [_sealed_line(turn, facts) for facts in facts_of(turn, question)]
        return [fit(turn, "\n".join(lines) or not_living(turn, question))]
    sealed = facts_of(turn, question, lambda facts: facts.state.sealed_since is not None)
    if not sealed:
        return [turn.reply(empty_shelf(turn) or say("sealed.nobody"))]
    lines = [say("sealed.head", n=len(sealed)), *(_since_line(turn, f, f.state.sealed_since) for f in sealed)]
    return [fit(turn, "\n".join([*lines, say("sealed.care")]))]


def _sealed_line(turn: Turn, facts: SpecimenFacts) -> str:
    state, who = facts.state, facts.specimen.called
    if state.missing_since is not None:
        return where_line(turn, facts.specimen)
    if state.sealed_since is not None:
        line = say("sealed.yes", who=who, day=wording.day_and_ago(state.sealed_since, turn.today))
        if state.last_checked is not None and state.last_checked > state.sealed_since:
            line += " " + say("sealed.checked", day=wording.day_of(state.last_checked, turn.today))
        return line
    if state.last_opened is not None:
        return say("sealed.opened", who=who, day=wording.day_and_ago(state.last_opened, turn.today))
    return say("sealed.no", who=who)


def premolt_now(turn: Turn, question: Question) -> list[Reply]:
    """Who shows premolt signs or is sealed, since when; of named animals, yes or no."""
    if named(question):
        lines = [_premolt_line(turn, facts) for facts in facts_of(turn, question)]
        return [fit(turn, "\n".join(lines) or not_living(turn, question))]
    signs = facts_of(turn, question, lambda facts: facts.state.premolt_since is not None)
    sealed = facts_of(turn, question, lambda facts: facts.state.sealed_since is not None)
    lines = [_since_line(turn, facts, facts.state.premolt_since) for facts in signs]
    perhaps = facts_of(turn, question, _perhaps_premolt)
    lines.insert(0, say("premolt.head", n=len(signs)) if signs else say("premolt.nobody"))
    if sealed:
        names = wording.listed([facts.specimen.called for facts in sealed], most=6)
        lines.append(say("premolt.sealed", names=names))
    if perhaps:
        lines.append(say("premolt.perhaps", n=len(perhaps)))
        lines += [say("answer.card", who=f.specimen.called, what=_hints(turn, f)) for f in perhaps]
    return [fit(turn, empty_shelf(turn) or "\n".join(lines))]


def _perhaps_premolt(facts: SpecimenFacts) -> bool:
    return perhaps_in_premolt(Animal(facts.specimen, facts.state))


def _hints(turn: Turn, facts: SpecimenFacts) -> str:
    """What makes premolt likely where nobody has noted it: the refusals, and the days since the last molt."""
    state = facts.state
    assert state.last_refused is not None
    day = wording.day_of(state.last_refused, turn.today)
    refused = say("premolt.refused", times=wording.times(state.refusals), day=day)
    if state.last_molted is None:
        return refused
    return say("premolt.hints", refused=refused, day=wording.day_and_ago(state.last_molted, turn.today))


def _premolt_line(turn: Turn, facts: SpecimenFacts) -> str:
    since, who = facts.state.premolt_since, facts.specimen.called
    if since is not None:
        return say("premolt.yes", who=who, day=wording.day_and_ago(since, turn.today))
    if facts.state.sealed_since:
        return f"{_sealed_line(turn, facts)} {say('premolt.sealed_too')}"
    if _perhaps_premolt(facts):
        return say("premolt.maybe", who=who, hints=_hints(turn, facts))
    return say("premolt.no", who=who)


def _since_line(turn: Turn, facts: SpecimenFacts, since: date | None) -> str:
    day = wording.day_and_ago(since, turn.today) if since else ""
    return say("answer.since", who=facts.specimen.called, day=day)


# --- status ---------------------------------------------------------------------------------


def status(turn: Turn, question: Question) -> list[Reply]:
    """How an animal does: who it is, what happened last, what comes next. Of many, a line each."""
    if not named(question):
        return [turn.reply(empty_shelf(turn) or _shelf_status(turn))]
    found = facts_of(turn, question)
    if not found:
        return [turn.reply(not_living(turn, question))]
    if len(found) == 1:
        turn.remember(of=found[0].specimen.tag)
        lines = [describe(turn, found[0]), *concern_lines(turn, found[0].specimen)]
        return [fit(turn, "\n".join(lines), quick.rows(found[0]))]
    if len(found) <= _STATUS_IN_FULL:
        return [fit(turn, "\n\n".join(describe(turn, facts) for facts in found))]
    return [fit(turn, "\n".join(_short_status(turn, facts) for facts in found))]


def pressed_quick(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Logs what was tapped under an animal's card, and shows the card as it is then, with its buttons."""
    logged = quick.log_it(turn, action)
    facts = turn.facts.get(action["tag"])
    if facts is None:
        return logged
    return [fit(turn, describe(turn, facts), quick.rows(facts), in_place=True), *logged]


def describe(turn: Turn, facts: SpecimenFacts) -> str:
    """Everything that matters about one animal, in a few short lines."""
    plan = next_for(facts, turn.today)
    lines = [card(turn, facts)]
    lines += [line for row in _LASTS if (line := _last_line(turn, facts, row))]
    sac = facts.state.sac_since
    if sac is not None:
        lines.append(say("status.sac", day=wording.day_and_ago(sac, turn.today)))
    found = condition_of(Animal(facts.specimen, facts.state), turn.today)
    if found is not None:
        told = say_of("conditions", found.condition.value)
        lines.append(say("status.condition", condition=told, day=wording.day_and_ago(found.on, turn.today)))
    if plan.rest is not None:
        lines.append(next_up.rest_in_full(turn, plan.rest, facts))
    lines += [line for line in (next_up.meal_sentence(plan, turn.today),) if line and plan.rest is None]
    if facts.state.missing_since is None:
        lines.append(next_up.water_sentence(plan, turn.today))
    return "\n".join(lines)


def what_is(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who animals are, a line for each: species, stage, sex, place."""
    found = [facts for one in asked_about(turn, wanted) if (facts := turn.facts.get(one.tag)) is not None]
    return [fit(turn, "\n".join(card(turn, facts) for facts in found))]


def card(turn: Turn, facts: SpecimenFacts) -> str:
    """Who an animal is, on one line: ``Pebble (A1): Grammostola pulchra, adult female, shelf A``."""
    specimen, state = facts.specimen, facts.state
    span = state.span_cm or specimen.span_cm
    stage = (state.stage or specimen.stage).value
    sex = (state.sex if state.sex is not Sex.UNKNOWN else specimen.sex).value
    alone = sex == Sex.UNKNOWN or sex in stage.split()
    told, of_sex = say_of("stages", stage), say_of("sexes", sex)
    parts = [
        specimen.species,
        told if alone else say("answer.stage_and_sex", stage=told, sex=of_sex),
        say("answer.lot", n=state.lot_size) if specimen.lot_size > 1 else "",
        say("measure.span", length=wording.length(span, turn.settings.units)) if span else "",
        specimen.place or "",
    ]
    return say("answer.card", who=specimen.called, what=", ".join(part for part in parts if part))


_Row = tuple[str, Callable[[SpecimenFacts], date | None]]
_LASTS: Final[tuple[_Row, ...]] = (
    ("fed", lambda facts: facts.state.last_fed),
    ("refused", lambda facts: facts.state.last_refused if facts.state.refusals else None),
    ("watered", lambda facts: facts.state.last_watered),
    ("molted", lambda facts: facts.state.last_molted),
    ("rehoused", lambda facts: facts.state.last_rehoused),
)


def _last_line(turn: Turn, facts: SpecimenFacts, row: _Row) -> str:
    kind, day_of = row
    day = day_of(facts)
    if day is None:
        return ""
    what = wording.meal(facts.state.last_prey, facts.state.last_prey_count, facts.state.last_prey_size)
    when = wording.day_and_ago(day, turn.today)
    if kind == "fed" and what:
        return say("status.ate", what=what, day=when)
    if kind == "refused":
        return say("status.refused", n=facts.state.refusals, day=when)
    return say("status.last", what=_thing(kind), day=when)


def _thing(kind: str) -> str:
    return {"fed": say("status.fed"), "watered": say("status.watered"), "molted": say("status.molted")}.get(
        kind, say("status.rehoused")
    )


def _short_status(turn: Turn, facts: SpecimenFacts) -> str:
    who = facts.specimen.called
    rest = next_up.rest_line(turn, facts.specimen.tag)
    if rest:
        return say("status.line", who=who, what=rest)
    day = facts.state.last_fed
    ate = say("status.ate_short", day=wording.day_of(day, turn.today)) if day else say("status.no_meal")
    return say(
        "status.line", who=who, what=f"{ate} {next_up.meal_sentence(next_for(facts, turn.today), turn.today)}"
    )


def _shelf_status(turn: Turn) -> str:
    everyone = turn.facts.all()
    resting = [rest for facts in everyone if (rest := rest_of(facts, turn.today))]
    reasons = Counter(rest.reason.value for rest in resting)
    lines = [say("status.shelf", n=len(everyone))]
    if resting:
        parts = [say_of("resting_for", reason, n=n) for reason, n in reasons.most_common()]
        lines.append(say("status.resting", n=len(resting), parts=", ".join(parts)))
    due = Counter(task for facts in everyone if (task := _due_task(facts, turn.today)) is not None)
    lines.append(say("status.due", n=due[TaskKind.FEED]))
    if due[TaskKind.CHECK]:
        lines.append(say("status.looks", n=due[TaskKind.CHECK]))
    return "\n".join(lines)


def _due_task(facts: SpecimenFacts, today: date) -> TaskKind | None:
    """What is due by now: a meal, or the look before it; ``None`` where neither is."""
    plan = next_for(facts, today)
    is_due = plan.rest is None and plan.feed_on is not None and plan.feed_on <= today
    return plan.feed_task if is_due else None
