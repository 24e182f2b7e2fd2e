"""What is to come: who is due, the next molt, rehousing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, Final

from bot.conversation import next_up, wording
from bot.conversation.answers import housing
from bot.conversation.answers.subject import (
    asked_of,
    empty_shelf,
    facts_of,
    named,
    not_living,
    outlook_records,
    what_became_of,
)
from bot.conversation.caution import before_opening
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.reasons import reason
from bot.conversation.round_opening import asked_for
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import KEEPERS_SETTING, OWN_RECORD, Animal
from bot.husbandry.premolt import perhaps_in_premolt
from bot.husbandry.watering import thirst
from bot.reading.model import Question
from bot.round.care import WaterPlan, water_plans
from bot.round.intervals import feeding_interval
from bot.round.model import SpecimenFacts, TaskKind
from bot.round.rests import Case
from bot.round.worklist import next_for
from bot.terms import Kind, Specimen

if TYPE_CHECKING:
    from bot.husbandry.forecast import Forecast

#: From so many times the usual drying on, the air is named as the reason.
_THIRSTY: Final = 1.3
#: So many of those that may molt next are told at once.
_NEAREST: Final = 4
#: From so many gaps between meals on, they are told as its own rhythm.
_ENOUGH_MEALS: Final = 2
#: So many of those due on a day to come are named.
_MOST_NAMES: Final = 24


# --- due ------------------------------------------------------------------------------------


def due(turn: Turn, question: Question) -> list[Reply]:
    """What is due today: the round, open for answers. Of named animals, why (not)."""
    if named(question):
        lines = [_due_line(turn, facts, question) for facts in facts_of(turn, question)]
        return [fit(turn, "\n".join(lines) or not_living(turn, question))]
    if not turn.shelf.specimens:
        return [turn.reply(empty_shelf(turn) or "")]
    if question.since is not None and question.until is not None and question.until > turn.today:
        return [_due_ahead(turn, question.since, question.until)]
    return [asked_for(turn, only=TaskKind.WATER if question.kind is Kind.WATERED else None)]


def _due_ahead(turn: Turn, first: date, last: date) -> Reply:
    """Whose next meal and water fall on each of the days to come, and who is due before the first of them.

    Each animal's next one only.
    """
    before = first - timedelta(days=1)
    found = _due_by(turn, last, earliest=max(before, turn.today))
    lines = [
        say("due.ahead_day", day=wording.day_in_full(day, turn.today), what=_of_day(found[day]))
        for day in sorted(found.keys() - {before})
    ]
    span = wording.span_of_days(first, last, turn.today)
    if not lines:
        lines = [say("due.ahead_nothing", span=span)]
    elif first < last:
        lines.insert(0, say("due.ahead", span=span))
    if before in found:
        lines.append(say("due.ahead_before", what=_of_day(found[before])))
    return fit(turn, "\n".join(map(wording.capital, lines)))


def due_now(turn: Turn) -> str:
    """Who is to be fed, looked at first, and watered by now; empty where nobody is."""
    return _of_day(_due_by(turn, turn.today, earliest=turn.today).get(turn.today, {}))


def _due_by(turn: Turn, last: date, *, earliest: date) -> dict[date, dict[TaskKind, list[Specimen]]]:
    """Who is to be fed, who looked at before any food, and who watered, on which day up to the last.

    What was due earlier is of ``earliest``.
    """
    found: dict[date, dict[TaskKind, list[Specimen]]] = {}
    for facts in turn.facts.all():
        plan = next_for(facts, turn.today)
        for day, task in ((plan.feed_on, plan.feed_task or TaskKind.FEED), (plan.water_on, TaskKind.WATER)):
            if day is not None and day <= last:
                of_day = found.setdefault(max(day, earliest), {})
                of_day.setdefault(task, []).append(facts.specimen)
    return found


def _of_day(found: Mapping[TaskKind, list[Specimen]]) -> str:
    parts = (
        say_of("due.ahead_do", task.value, names=wording.called(found[task], most=_MOST_NAMES))
        for task in (TaskKind.FEED, TaskKind.CHECK, TaskKind.WATER)
        if task in found
    )
    return "; ".join(parts)


def _due_line(turn: Turn, facts: SpecimenFacts, question: Question) -> str:
    """Whether an animal is due, why, and when; asked "how often", its rhythm too; asked for water, that."""
    if question.kind is Kind.WATERED:
        return _water_line(turn, facts)
    line = _due_now(turn, facts)
    if question.kind is not Kind.FED:
        return line
    interval = feeding_interval(Case(facts, turn.today))
    days, yours = wording.days(interval.days), interval.basis == KEEPERS_SETTING
    line = f"{_own_rhythm(turn, facts.specimen)}{line}"
    return f"{line} {say('due.rhythm_yours', days=days) if yours else say('due.rhythm', days=days)}"


def _own_rhythm(turn: Turn, animal: Specimen) -> str:
    """The days between its meals on record, or that there are too few, with a line end."""
    rows = turn.work.journal.entries(turn.shelf_id, tags=(animal.tag,), kinds=(Kind.FED,))
    days = sorted({row.entry.day for row in rows})
    between = [(later - earlier).days for earlier, later in pairwise(days)]
    if len(between) < _ENOUGH_MEALS:
        return f"{say('due.no_rhythm', who=animal.called)}\n"
    gaps = say("calendar.span", first=min(between), last=max(between))
    line = say("due.own_rhythm", who=animal.called, n=len(days), gaps=gaps, median=round(median(between)))
    return f"{line}\n"


def _water_line(turn: Turn, facts: SpecimenFacts) -> str:
    """When an animal's next water is due, with the days between which it dries, and what that rests on."""
    plan, who = next_for(facts, turn.today), facts.specimen.called
    last = facts.state.last_watered
    if last is None:
        return say("water_due.never", who=who)
    case = Case(facts, turn.today)
    plans = water_plans(case)
    if len(plans) > 1:
        return _places_line(turn, facts, plans)
    lasts, last = plans[0].lasts, plans[0].watered.last or last
    early, late = (last + timedelta(days=days) for days in (lasts.early, lasts.late))
    when = next_up.water_sentence(plan, turn.today)
    parts = [say("water_due.last", who=who, day=wording.day_and_ago(last, turn.today), when=when)]
    if lasts.basis == KEEPERS_SETTING:
        parts.append(say("water_due.yours", days=wording.days(lasts.days)))
    else:
        span = wording.span_of_days(early, late, turn.today)
        parts.append(say("water_due.lasts", days=wording.days(lasts.days), span=span))
        parts.append(say("water_due.by_own") if lasts.basis == OWN_RECORD else say("water_due.by_rule"))
        if thirst(case.animal, turn.today, facts.air) >= _THIRSTY:
            parts.append(say("water_due.dry_air"))
    return " ".join(parts)


def _places_line(turn: Turn, facts: SpecimenFacts, plans: Sequence[WaterPlan]) -> str:
    """When dish and substrate are due, each by its own waterings."""
    parts = []
    for plan in plans:
        last = plan.watered.last
        due = wording.day_of(max(plan.due, turn.today), turn.today)
        who, place = facts.specimen.called, plan.watered.place.value
        if last is None:
            parts.append(say_of("water_places_never", place, who=who, due=due))
        else:
            day = wording.day_and_ago(last, turn.today)
            parts.append(say_of("water_places", place, who=who, day=day, due=due))
        if plan.lasts.basis == KEEPERS_SETTING:
            parts.append(say("water_due.yours", days=wording.days(plan.lasts.days)))
    return " ".join(parts)


def _due_now(turn: Turn, facts: SpecimenFacts) -> str:
    plan, who = next_for(facts, turn.today), facts.specimen.called
    if plan.rest is not None:
        return say("due.rests", who=who, why=next_up.rest_in_full(turn, plan.rest, facts))
    if plan.feed_on is None or plan.feed_why is None:
        return say("due.unknown", who=who)
    why = reason(plan.feed_why, turn.today, turn.settings)
    if plan.feed_on <= turn.today:
        return say("due.yes", who=who, why=why, next=next_up.meal_sentence(plan, turn.today))
    return say("due.not_yet", who=who, why=why, next=next_up.meal_sentence(plan, turn.today))


# --- the next molt --------------------------------------------------------------------------


def next_molt(turn: Turn, question: Question) -> list[Reply]:
    """When the next molt may come: a range, and what it rests on."""
    animals = asked_of(turn, question)
    ahead = _forecasts(turn) if animals else {}
    if animals and not named(question):
        return [fit(turn, "\n".join(_nearest_molts(turn, ahead)), page_lines=_NEAREST)]
    lines = [_molt_line(turn, animal, ahead) for animal in animals]
    return [fit(turn, "\n".join(lines) or say("answer.empty_shelf"))]


def _nearest_molts(turn: Turn, ahead: Mapping[str, Forecast]) -> list[str]:
    """Whose molt may come next, the soonest first, a line each."""
    found = [
        (one.next_molt[2], tag, one.next_molt) for tag, one in ahead.items() if one.next_molt is not None
    ]
    return [
        say("molt.soon", who=turn.called(tag), day=wording.day_of(middle, turn.today), span=span)
        for middle, tag, days in sorted(found)
        for span in [wording.span_of_days(days[0], days[4], turn.today)]
    ]


def _forecasts(turn: Turn) -> dict[str, Forecast]:
    """The forecast of each animal."""
    from bot.husbandry.forecast import forecasts  # noqa: PLC0415  numpy costs; most messages need none

    return {forecast.tag: forecast for forecast in forecasts(outlook_records(turn), turn.today)}


def _molt_line(turn: Turn, animal: Specimen, ahead: Mapping[str, Forecast]) -> str:
    facts, forecast = turn.facts.get(animal.tag), ahead.get(animal.tag)
    if facts is None or forecast is None:
        return what_became_of(turn, animal)
    if forecast.next_molt is None:
        return say("molt.mature_male", who=animal.called)
    earliest, _, middle, _, latest = forecast.next_molt
    last = forecast.last_molt
    parts = [
        say("molt.last", who=animal.called, day=wording.day_and_ago(last, turn.today))
        if last is not None
        else say("molt.none", who=animal.called),
        say(
            "molt.next",
            day=wording.day_of(middle, turn.today),
            span=wording.span_of_days(earliest, latest, turn.today),
        ),
        _molt_basis(forecast),
        _signs(turn, facts) or _perhaps(facts),
    ]
    return " ".join(part for part in parts if part)


def _molt_basis(forecast: Forecast) -> str:
    if forecast.days_apart is None:
        return say("molt.by_kind")
    low, high = forecast.days_apart
    if low == high:
        return say("molt.by_own_even", n=forecast.molts, low=low)
    return say("molt.by_own", n=forecast.molts, low=low, high=high)


def _perhaps(facts: SpecimenFacts) -> str:
    return say("molt.premolt") if perhaps_in_premolt(Animal(facts.specimen, facts.state)) else ""


def _signs(turn: Turn, facts: SpecimenFacts) -> str:
    return (
        next_up.rest_line(turn, facts.specimen.tag)
        if facts.state.sealed_since or facts.state.premolt_since
        else ""
    )


# --- rehousing -----------------------------------------------------------------


def rehouse_due(turn: Turn, question: Question) -> list[Reply]:
    """Who has outgrown its home, those that must not be moved now left out; of named animals, until when."""
    if named(question):
        return housing.home(turn, question)
    due = [
        (facts.specimen, why)
        for facts in facts_of(turn, question)
        if (why := next_for(facts, turn.today).rehouse) is not None
    ]
    if not due:
        return [turn.reply(empty_shelf(turn) or say("rehouse.nobody"))]
    lines = [
        say("rehouse.line", who=animal.called, why=reason(why, turn.today, turn.settings))
        for animal, why in due
    ]
    minded = before_opening([animal for animal, _ in due])
    return [fit(turn, "\n".join([say("rehouse.head", n=len(lines)), *lines, *minded]))]
