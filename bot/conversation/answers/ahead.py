"""What is to come: who is due, the next molt, rehousing, what to buy."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from typing import Final

from bot.conversation import next_up, round_words, wording
from bot.conversation.answers.past import intervals
from bot.conversation.answers.subject import asked_of, empty_shelf, facts_of, named
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.reasons import reason, rest_sentence
from bot.conversation.round_board import items_now, newest_open, shown
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.reading.model import Question
from bot.round.meals import feeding_interval, meal_for
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.round.worklist import next_for, rest_of, worklist
from bot.terms import Specimen, Stage

_SHOPPING_DAYS: Final = 7
_INTERVALS_NEEDED: Final = 2
"""A next molt is told from the animal's own record only with at least this many intervals."""


# --- due ------------------------------------------------------------------------------------


def due(turn: Turn, question: Question) -> list[Reply]:
    """What is due today: the open round with its buttons, if there is one. Of named animals, why (not)."""
    if named(question):
        lines = [_due_line(turn, facts) for facts in facts_of(turn, question)]
        return [fit(turn, "\n".join(lines) or say("answer.not_living"))]
    if not turn.shelf.specimens:
        return [turn.reply(empty_shelf(turn) or "")]
    opened = newest_open(turn)
    if opened is not None and opened.day == turn.today:
        items = items_now(turn, opened)
        if any(map(round_words.is_open, items)):
            return [shown(turn, opened, items)]
    work = worklist(turn.facts.all(), turn.today)
    items = round_words.items_of(work, turn.settings)
    return [fit(turn, round_words.round_text(items, turn.shelf.by_tag, turn.today, turn.today))]


def _due_line(turn: Turn, facts: SpecimenFacts) -> str:
    plan, who = next_for(facts, turn.today), facts.specimen.called
    if plan.rest is not None:
        return say("due.rests", who=who, why=rest_sentence(plan.rest, turn.today, turn.settings))
    if plan.feed_on is None or plan.feed_why is None:
        return say("due.unknown", who=who)
    why = reason(plan.feed_why, turn.today, turn.settings)
    if plan.feed_on <= turn.today:
        return say("due.yes", who=who, why=why, next=next_up.meal_sentence(plan, turn.today))
    return say("due.not_yet", who=who, why=why, next=next_up.meal_sentence(plan, turn.today))


# --- the next molt --------------------------------------------------------------------------


def next_molt(turn: Turn, question: Question) -> list[Reply]:
    """When the next molt may come, from the animal's own record, with what it rests on and a range."""
    lines = [_molt_line(turn, animal) for animal in asked_of(turn, question)]
    return [fit(turn, "\n".join(lines) or say("answer.empty_shelf"))]


def _molt_line(turn: Turn, animal: Specimen) -> str:
    facts = turn.facts.get(animal.tag)
    if facts is None:
        return say("answer.not_living")
    last = facts.state.last_molted
    if (facts.state.stage or animal.stage) is Stage.MATURE_MALE:
        return say("molt.mature_male", who=animal.called)
    between = intervals(turn, animal.tag)
    if last is None:
        return " ".join((say("molt.none", who=animal.called), _signs(turn, facts))).rstrip()
    day = wording.day_and_ago(last, turn.today)
    if len(between) < _INTERVALS_NEEDED:
        line = say("molt.too_few", who=animal.called, day=day, n=len(between))
    else:
        first, latest = last + timedelta(days=min(between)), last + timedelta(days=max(between))
        span = wording.span_of_days(first, latest, turn.today)
        line = say("molt.next", who=animal.called, day=day, span=span, n=len(between))
    return " ".join((line, _signs(turn, facts))).rstrip()


def _signs(turn: Turn, facts: SpecimenFacts) -> str:
    return (
        next_up.rest_line(turn, facts.specimen.tag)
        if facts.state.sealed_since or facts.state.premolt_since
        else ""
    )


# --- rehousing and shopping -----------------------------------------------------------------


def rehouse_due(turn: Turn, question: Question) -> list[Reply]:
    """Who has outgrown its home; those that must not be moved now are left out."""
    lines = [
        say("rehouse.line", who=facts.specimen.called, why=reason(why, turn.today, turn.settings))
        for facts in facts_of(turn, question)
        if (why := next_for(facts, turn.today).rehouse) is not None
    ]
    if not lines:
        return [turn.reply(empty_shelf(turn) or say("rehouse.nobody"))]
    return [fit(turn, "\n".join([say("rehouse.head", n=len(lines)), *lines]))]


def shopping(turn: Turn, question: Question) -> list[Reply]:
    """The feeders that the coming week's meals take, by kind and size; stock is not subtracted."""
    last = turn.today + timedelta(days=_SHOPPING_DAYS - 1)
    wanted: Counter[tuple[str, str]] = Counter()
    for facts in facts_of(turn, question):
        meal = meal_for(Animal(facts.specimen, facts.state))
        eaters = max(1, facts.state.lot_size)
        wanted[meal.prey, meal.size.value] += _meals_until(turn, facts, last) * meal.count * eaters
    lines = [
        say("shopping.line", what=wording.meal(prey, n, size))
        for (prey, size), n in sorted(wanted.items())
        if n
    ]
    if not lines:
        return [turn.reply(empty_shelf(turn) or say("shopping.nothing", days=wording.days(_SHOPPING_DAYS)))]
    head = say("shopping.head", day=wording.date_of(last, turn.today))
    return [fit(turn, "\n".join([head, *lines, say("shopping.note")]))]


def _meals_until(turn: Turn, facts: SpecimenFacts, last: date) -> int:
    """How many meals fall due from today to a day, if each is taken; none while its rest has no known end."""
    rest = rest_of(facts, turn.today)
    first = next_for(facts, turn.today).feed_on
    if first is None or first > last or (rest is not None and rest.expected_until is None):
        return 0
    every = feeding_interval(Case(facts, turn.today)).days
    return 1 + (last - first).days // every
