"""What to feed an animal: the size of prey that fits, and the usual meal. General practice by its span."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from bot.conversation import next_up, wording
from bot.conversation.answers.subject import facts_of, named, not_living
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.feeding import fitting_sizes, longest_prey_mm, meal_for, sizes_for_span
from bot.husbandry.prey import Prey, is_of_kind, kinds_of_prey, sizes_of
from bot.reading.model import Question
from bot.round.model import SpecimenFacts
from bot.terms import Units

_MM_PER_INCH: Final = 25.4
#: Up to this many animals are told of in full, more on a line each.
_IN_FULL: Final = 2


def fitting(turn: Turn, question: Question) -> list[Reply]:
    """How large prey may be for the animals asked about, and what is usual for them."""
    if not named(question):
        return [turn.reply(say("answer.name_one"))]
    found = facts_of(turn, question)
    if not found:
        return [turn.reply(not_living(turn, question))]
    if len(found) > _IN_FULL:
        lines = [_short(turn, facts, question.prey) for facts in found]
    else:
        lines = [line for facts in found for line in _in_full(turn, facts, question.prey)]
    return [fit(turn, "\n".join([*lines, say("meal_fit.basis")]))]


def _short(turn: Turn, facts: SpecimenFacts, prey: str | None) -> str:
    """Whether a feeder that was asked about fits one of several; what is usual for it where none was."""
    asked = asked_kinds(prey)
    if not asked:
        return _usual(turn, facts)
    animal = Animal(facts.specimen, facts.state)
    told = " ".join(asked_line(turn, kind, fitting_sizes(kind, animal)) for kind in asked)
    return say("answer.card", who=facts.specimen.called, what=told)


def asked_kinds(prey: str | None) -> list[str]:
    """The kinds of the file that a feeder asked about is: a roach is any of its roaches."""
    return [kind for kind in kinds_of_prey() if prey and is_of_kind(kind, prey)]


def _usual(turn: Turn, facts: SpecimenFacts) -> str:
    meal = meal_for(Animal(facts.specimen, facts.state), turn.today)
    usual = wording.meal(meal.prey, meal.count, meal.size.value)
    return say("meal_fit.usual", who=facts.specimen.called, meal=usual)


def _in_full(turn: Turn, facts: SpecimenFacts, prey: str | None) -> list[str]:
    animal = Animal(facts.specimen, facts.state)
    lines = [_usual(turn, facts), longest_line(turn, animal.span_cm)]
    asked = asked_kinds(prey)
    lines += [asked_line(turn, kind, fitting_sizes(kind, animal)) for kind in asked]
    if not asked:
        lines += fits_line(animal.span_cm)
    return [*lines, *filter(None, [next_up.rest_line(turn, facts.specimen.tag)])]


def longest_line(turn: Turn, span_cm: float) -> str:
    """How long prey may be at a span."""
    span = wording.length(round(Decimal(span_cm), 1), turn.settings.units)
    return say(
        "meal_fit.longest", span=span, length=feeder_length(longest_prey_mm(span_cm), turn.settings.units)
    )


def fits_line(span_cm: float) -> list[str]:
    """A line of the feeders that fit a span, each up to its largest size; none where none is that small."""
    fits = [_up_to(sizes) for kind in kinds_of_prey() if (sizes := sizes_for_span(kind, span_cm))]
    return [say("meal_fit.fits", kinds=wording.listed(fits, most=len(fits)))] if fits else []


def _up_to(fit_ones: list[Prey]) -> str:
    largest = fit_ones[-1]
    noun = wording.meal(largest.kind, None, None)
    if len(sizes_of(largest.kind)) == 1:
        return noun
    return say("meal_fit.up_to", prey=noun, size=say_of("sizes", largest.size.value))


def asked_line(turn: Turn, kind: str, fit_ones: list[Prey]) -> str:
    """Whether a feeder that was asked about fits, up to which size; ``fit_ones`` are the sizes that do."""
    noun = wording.capital(wording.meal(kind, None, None))
    if not fit_ones:
        smallest = feeder_length(sizes_of(kind)[0].length_mm, turn.settings.units)
        return say("meal_fit.too_large", prey=noun, length=smallest)
    if len(sizes_of(kind)) == 1:
        return say("meal_fit.fits_one", prey=noun)
    return say("meal_fit.asked", prey=noun, size=say_of("sizes", fit_ones[-1].size.value))


def feeder_length(mm: float, units: Units) -> str:
    """A feeder's length as it is spoken of: whole mm, or tenths of an inch."""
    if units is Units.US:
        return say("amount.inches", n=wording.number(Decimal(mm / _MM_PER_INCH)))
    return say("amount.mm", n=round(mm))
