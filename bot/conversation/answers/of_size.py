"""Feeders by size: what goes with a span whoever has it, and how long a feeder is."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from bot.conversation import wording
from bot.conversation.answers.meals import asked_kinds, asked_line, feeder_length, fits_line, longest_line
from bot.conversation.answers.subject import spans_between
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry import practice
from bot.husbandry.feeding import PREY_MM_PER_CM, sizes_for_span
from bot.husbandry.practice import Meal
from bot.husbandry.prey import prey_of, sizes_of
from bot.reading.wanted.wanted import Instruction


def meal_of_span(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What an animal of a span is usually fed and what fits it; without a span, the rule for all spans."""
    if wanted.span_cm is None:
        return [fit(turn, "\n".join([*_by_span(turn), say("meal_fit.basis")]))]
    span, asked = float(wanted.span_cm), asked_kinds(wanted.prey)
    lines = [_usual(practice.for_span(practice.MEALS, span), span), longest_line(turn, span)]
    lines += [asked_line(turn, kind, sizes_for_span(kind, span)) for kind in asked]
    if wanted.prey and not asked:
        lines.append(say("feeder_size.unknown", prey=wording.meal(wanted.prey, None, None)))
    if not asked:
        lines += fits_line(span)
    return [fit(turn, "\n".join([*lines, say("meal_fit.basis")]))]


def _usual(meal: Meal, span_cm: float) -> str:
    """The usual meal of a span; where that is too long by any rule, that it is given killed or in part."""
    told = wording.meal(meal.prey, meal.count, meal.size.value)
    prey = prey_of(meal.prey, meal.size)
    fits = prey is None or prey.length_mm <= PREY_MM_PER_CM.high * span_cm
    return say("meal_of_span.usual", meal=told) if fits else say("meal_of_span.killed", meal=told)


def _by_span(turn: Turn) -> Iterator[str]:
    """The usual meal of every span, small ones first."""
    yield say("meal_of_span.head", n=wording.number(Decimal(PREY_MM_PER_CM.value)))
    for first, last, meal in practice.rows_of_spans(practice.MEALS):
        told = wording.meal(meal.prey, meal.count, meal.size.value)
        yield say("answer.card", who=spans_between(turn, first, last), what=told)


def feeder_size(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How long a feeder is at the size asked about, or at each of its sizes."""
    kinds = asked_kinds(wanted.prey)
    lines = [line for kind in kinds if (line := _lengths(turn, kind, wanted.value))]
    if not lines:
        named = wording.meal(wanted.prey or "", None, wanted.value)
        return [turn.reply(say("feeder_size.unknown", prey=named))]
    return [fit(turn, "\n".join([*lines, say("feeder_size.basis")]))]


def _lengths(turn: Turn, kind: str, size: str | None) -> str:
    """The lengths of a feeder: of the size that is said, or of all; empty where it has no such size."""
    sizes = sizes_of(kind)
    only = len(sizes) == 1
    told = []
    for prey in sizes:
        if only or size in (None, prey.size):
            length = feeder_length(prey.length_mm, turn.settings.units)
            sized = say_of("sizes", prey.size.value)
            told.append(length if only else say("feeder_size.one", size=sized, length=length))
    noun = wording.capital(wording.meal(kind, None, None))
    return say("answer.card", who=noun, what=wording.listed(told, most=len(told))) if told else ""
