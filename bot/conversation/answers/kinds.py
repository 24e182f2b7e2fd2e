"""Which species and which genera stand on the shelf, each with its animals."""

from __future__ import annotations

from collections import defaultdict
from typing import Final

from bot.conversation.answers import kept
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.round.model import SpecimenFacts

_MOST_NAMES: Final = 12
_PAGE: Final = 30


def kinds_kept(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The species or genera of the animals asked about, by the alphabet, with who is of each."""
    if wanted.species is not None:
        return [turn.reply(say("count.none_of", species=wanted.species))]
    genera = wanted.value == "genera"
    of: defaultdict[str, list[SpecimenFacts]] = defaultdict(list)
    for facts in turn.facts.all():
        if wanted.tags and facts.specimen.tag not in wanted.tags:
            continue
        name = facts.specimen.species
        of[name.split(" ", maxsplit=1)[0] if genera else name].append(facts)
    lines = [] if wanted.tags else [say_of("kinds.head", "genera" if genera else "species", n=len(of))]
    lines += [
        say("answer.card", who=name, what=kept.names_of(found, _MOST_NAMES))
        for name, found in sorted(of.items())
    ]
    return [fit(turn, empty_shelf(turn) or "\n".join(lines), page_lines=_PAGE)]
