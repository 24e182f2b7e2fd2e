"""What other seals of a kind took on this shelf, told beside the rest of one that is sealed."""

from __future__ import annotations

from bot.conversation import wording
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.seals import OPENS, seals_that_ended
from bot.round.model import SpecimenFacts
from bot.terms import Kind


def others_took(turn: Turn, facts: SpecimenFacts) -> str:
    """How long seals of its kind on record lasted; empty where it is not sealed, or none is on record."""
    species = facts.specimen.species
    if facts.state.sealed_since is None or species is None:
        return ""
    kin = [animal.tag for animal in turn.shelf.specimens if animal.species == species]
    rows = turn.work.journal.entries(
        turn.shelf_id, tags=kin, kinds=(Kind.SEALED, *sorted(OPENS)), newest_first=False
    )
    lasted = seals_that_ended(row.entry for row in rows)
    if not lasted:
        return ""
    if min(lasted) == max(lasted):
        return say("next.seals_alike", n=len(lasted), days=wording.days(lasted[0]))
    return say("next.seals", n=len(lasted), low=min(lasted), high=wording.days(max(lasted)))
