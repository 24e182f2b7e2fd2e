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
from bot.husbandry.feeding import fitting_sizes, largest_prey_mm, meal_for
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
    asked = _asked_kinds(prey)
    if not asked:
        return _usual(turn, facts)
    animal = Animal(facts.specimen, facts.state)
    told = " ".join(_asked_line(turn, kind, animal) for kind in asked)
    return say("answer.card", who=facts.specimen.called, what=told)


def _asked_kinds(prey: str | None) -> list[str]:
    return [kind for kind in kinds_of_prey() if prey and is_of_kind(kind, prey)]


def _usual(turn: Turn, facts: SpecimenFacts) -> str:
    meal = meal_for(Animal(facts.specimen, facts.state), turn.today)
    usual = wording.meal(meal.prey, meal.count, meal.size.value)
    return say("meal_fit.usual", who=facts.specimen.called, meal=usual)


def _in_full(turn: Turn, facts: SpecimenFacts, prey: str | None) -> list[str]:
    animal = Animal(facts.specimen, facts.state)
    longest = largest_prey_mm(animal)
    span = wording.length(round(Decimal(animal.span_cm), 1), turn.settings.units)
    length = _length(longest, turn.settings.units)
    lines = [_usual(turn, facts), say("meal_fit.longest", span=span, length=length)]
    asked = _asked_kinds(prey)
    lines += [_asked_line(turn, kind, animal) for kind in asked]
    if not asked:
        fits = [_up_to(sizes) for kind in kinds_of_prey() if (sizes := fitting_sizes(kind, animal))]
        lines.append(say("meal_fit.fits", kinds=wording.listed(fits, most=len(fits))))
    return [*lines, *filter(None, [next_up.rest_line(turn, facts.specimen.tag)])]


def _up_to(fit_ones: list[Prey]) -> str:
    largest = fit_ones[-1]
    noun = wording.meal(largest.kind, None, None)
    if len(sizes_of(largest.kind)) == 1:
        return noun
    return say("meal_fit.up_to", prey=noun, size=say_of("sizes", largest.size.value))


def _asked_line(turn: Turn, kind: str, animal: Animal) -> str:
    """Whether a feeder that was asked about fits, and up to which size."""
    fit_ones, noun = fitting_sizes(kind, animal), wording.capital(wording.meal(kind, None, None))
    if not fit_ones:
        smallest = _length(sizes_of(kind)[0].length_mm, turn.settings.units)
        return say("meal_fit.too_large", prey=noun, length=smallest)
    if len(sizes_of(kind)) == 1:
        return say("meal_fit.fits_one", prey=noun)
    return say("meal_fit.asked", prey=noun, size=say_of("sizes", fit_ones[-1].size.value))


def _length(mm: float, units: Units) -> str:
    """A feeder's length as it is spoken of: whole mm, or tenths of an inch."""
    if units is Units.US:
        return say("amount.inches", n=f"{mm / _MM_PER_INCH:.1f}")
    return say("amount.mm", n=round(mm))
