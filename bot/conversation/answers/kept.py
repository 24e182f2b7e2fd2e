"""What is kept: where an animal stands, how big it is, how many there are, what is known of a species."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.evidence import evidence_lines
from bot.conversation.answers.subject import (
    asked_of,
    empty_shelf,
    facts_of,
    named,
    not_living,
    what_became_of,
)
from bot.conversation.caution import caution_lines
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.species import species_of
from bot.reading.model import Question
from bot.round.model import SpecimenFacts
from bot.terms import Specimen

_SIZES_PAGE: Final = 15


def where(turn: Turn, question: Question) -> list[Reply]:
    """Where an enclosure stands."""
    if not named(question):
        return [turn.reply(say("answer.name_one"))]
    animals = asked_of(turn, question)
    lines = [where_line(turn, animal) for animal in animals]
    return [fit(turn, "\n".join(lines) or say("answer.none_of_species", species=question.species or ""))]


def where_line(turn: Turn, animal: Specimen) -> str:
    """The place of one animal; that it is out of its enclosure, or what became of it, where that is so."""
    facts, place = turn.facts.get(animal.tag), animal.place or say("where.nowhere")
    if facts is None:
        return what_became_of(turn, animal) or say("where.line", who=animal.called, place=place)
    if facts.state.missing_since is not None:
        day = wording.day_and_ago(facts.state.missing_since, turn.today)
        return say("where.missing", who=animal.called, day=day, place=place)
    return say("where.line", who=animal.called, place=place)


def size(turn: Turn, question: Question) -> list[Reply]:
    """How big an animal is: what was measured, and when; of several, the largest first."""
    found = sorted(facts_of(turn, question), key=span_cm, reverse=True)
    lines = [_size_line(turn, facts) for facts in found]
    return [fit(turn, "\n".join(lines) or not_living(turn, question), page_lines=_SIZES_PAGE)]


def span_cm(facts: SpecimenFacts) -> Decimal:
    """The span in cm as last measured, or as it stands on the card; 0 where neither is known."""
    return facts.state.span_cm or facts.specimen.span_cm or Decimal(0)


def _size_line(turn: Turn, facts: SpecimenFacts) -> str:
    told = size_told(turn, facts)
    if not told:
        return say("size.never", who=facts.specimen.called)
    return say("answer.card", who=facts.specimen.called, what=told)


def size_told(turn: Turn, facts: SpecimenFacts) -> str:
    """What is on record of an animal's size, each with its day; empty where nothing is."""
    state, units = facts.state, turn.settings.units
    parts = []
    span = span_cm(facts)
    if span:
        day = wording.day_and_ago(state.span_on, turn.today) if state.span_on else say("size.on_card")
        parts.append(say("size.span", length=wording.length(span, units), day=day))
    if state.carapace_mm is not None:
        parts.append(say("measure.carapace", n=wording.number(state.carapace_mm)))
    if state.weight_g is not None and state.weight_on is not None:
        day = wording.day_and_ago(state.weight_on, turn.today)
        parts.append(say("size.weight", n=wording.number(state.weight_g, 2), day=day))
    return ", ".join(parts)


def count(turn: Turn, question: Question) -> list[Reply]:
    """How many animals there are, lots counted out; of a species with their names."""
    found = facts_of(turn, question)
    if not found:
        species = question.species
        none = say("count.none_of", species=species) if species else empty_shelf(turn) or say("count.none")
        return [turn.reply(none)]
    lots = [facts for facts in found if facts.state.lot_size > 1]
    animals = number_of(found)
    lines = [
        say("count.of_species", n=animals, species=question.species)
        if question.species
        else say("count.one")
        if animals == 1
        else say("count.all", n=animals, species=len({facts.specimen.species for facts in found}))
    ]
    if lots:
        lines.append(say("count.lots", names=wording.listed([lot(facts) for facts in lots], most=6)))
    if question.species:
        lines.append(wording.called([facts.specimen for facts in found], most=30))
    return [fit(turn, "\n".join(lines))]


def number_of(found: Iterable[SpecimenFacts]) -> int:
    """How many animals there are, lots counted out."""
    return sum(max(1, facts.state.lot_size) for facts in found)


def names_of(found: Iterable[SpecimenFacts], most: int) -> str:
    """Animals by name and tag, lots with their number."""
    names = [lot(one) if one.state.lot_size > 1 else one.specimen.called for one in found]
    return wording.listed(names, most=most)


def lot(facts: SpecimenFacts) -> str:
    """A lot with its number of animals."""
    return say("count.lot", who=facts.specimen.called, n=facts.state.lot_size)


def species_summary(turn: Turn, question: Question) -> list[Reply]:
    """What the keeper's shelf and the species file say of a species, each with its basis."""
    named_animals = asked_of(turn, question)
    name = question.species or (named_animals[0].species if named_animals else "")
    if not name or not named(question):
        return [turn.reply(say("species.which"))]
    kept = [animal for animal in turn.shelf.specimens if animal.species == name]
    head = say("species.kept", species=name, names=wording.called(kept, most=8)) if kept else name
    if question.kind is not None:
        found = evidence_lines(turn, name, question.kind) or [say("species.none_on_record")]
        return [fit(turn, "\n".join([head, *found]))]
    profile = species_of(name)
    units = turn.settings.units
    lines = [head]
    coldest, warmest = (
        wording.temperature(Decimal(c), units) for c in (profile.temp_min_c, profile.temp_max_c)
    )
    lines.append(
        say(
            "species.profile",
            habit=say_of("habits", profile.habit.value),
            moisture=say_of("moistures", profile.moisture.value),
            pace=say_of("paces", profile.pace.value),
            coldest=coldest,
            warmest=warmest,
            span=wording.length(profile.female_span_cm, units),
        )
    )
    lines.append(say("species.basis", basis=profile.basis))
    lines += caution_lines(profile)
    lines += evidence_lines(turn, profile.scientific_name)
    return [fit(turn, "\n".join(lines))]
