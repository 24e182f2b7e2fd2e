"""What a helper has to know at the enclosures: cautions, how to water, what to do when unsure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from bot.conversation import wording
from bot.conversation.people import keeper_of_shelf
from bot.conversation.round_words import Item, is_open
from bot.conversation.texts import has, say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.species import species_of
from bot.round.model import SpecimenFacts
from bot.terms import Specimen

_HAIRS: Final = "hairs"
_MOST_NAMES: Final = 40


def for_helper(turn: Turn, text: str, items: Sequence[Item]) -> str:
    """The text of a round with whom to be careful of, and whose animals they are."""
    keeper = keeper_of_shelf(turn)
    open_tags = dict.fromkeys(item["tag"] for item in items if is_open(item))
    lines = [
        say("handover.head", keeper=keeper),
        *_cautions(turn.animals(open_tags)),
        text,
        "",
        say("handover.foot", keeper=keeper),
    ]
    return "\n".join(lines)


def how_to_water(facts: SpecimenFacts) -> str:
    """What water means for an animal, by the moisture that suits it."""
    return say_of("handover.water", Animal(facts.specimen, facts.state).species.moisture.value)


def _cautions(animals: Iterable[Specimen]) -> list[str]:
    """A line for each thing to be careful of, the gravest first, with the animals that call for it."""
    told: dict[str, list[Specimen]] = {"high": [], "unknown": [], "medium": [], _HAIRS: []}
    for animal in animals:
        species = species_of(animal.species, animal.habit)
        if has("handover.mind", species.venom_caution.value):
            told[species.venom_caution.value].append(animal)
        if species.urticating is not False:  # what is not known of counts as kicking
            told[_HAIRS].append(animal)
    return [
        say_of("handover.mind", what, names=wording.called(which, most=_MOST_NAMES))
        for what, which in told.items()
        if which
    ]
