"""How an animal is kept, and why a closed burrow stays closed: what is asked before something is done."""

from __future__ import annotations

from typing import Final

from bot.conversation import wording
from bot.conversation.answers.kept import species_summary
from bot.conversation.model import Reply
from bot.conversation.next_up import rest_cards
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Question, Topic
from bot.reading.wanted.wanted import Instruction

_MOST_SPECIES: Final = 3
_MOST_NAMES: Final = 6


def may_disturb(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Whether a burrow may be dug up or an animal be woken: never, and what to do in its place."""
    closed = say("disturb.closed", names=wording.called(turn.animals(wanted.tags), most=_MOST_NAMES))
    return [fit(turn, "\n".join([closed, *rest_cards(turn, wanted.tags), say("disturb.long")]))]


def care(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What is known of keeping a species, or the animals asked about, a reply for each of their species."""
    kept = turn.animals(wanted.tags)
    species = [wanted.species] if wanted.species else [animal.species for animal in kept if animal.species]
    species = list(dict.fromkeys(species))
    if not species:
        return [turn.reply(say("species.which"))]
    return [
        reply
        for name in species[:_MOST_SPECIES]
        for reply in species_summary(turn, Question(topic=Topic.SPECIES_SUMMARY, species=name))
    ]
