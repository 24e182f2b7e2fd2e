"""What the keeper's own records of a species add up to, in a few lines for a phone."""

from __future__ import annotations

from typing import Final

from bot.conversation import wording
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.terms import Kind
from storage.shelf_on_paper import read_shelf

#: The figures that are told in a chat, in this order; the command line and the notes have them all.
_TOLD: Final = (
    "molt_interval",
    "growth_per_molt",
    "days_between_meals",
    "acceptance_by_days_to_molt",
    "days_sealed",
    "days_to_first_meal",
    "span_at_maturity",
    "died",
)


#: The figures that tell of a kind of thing.
_ABOUT: Final = {Kind.SEALED: ("days_sealed",)}


def evidence_lines(turn: Turn, species: str, kind: Kind | None = None) -> list[str]:
    """The figures of a species, each with its range and what it rests on; none where nothing is on record.

    ``kind``: those alone that tell of it.
    """
    from bot.husbandry.evidence import ENOUGH, by_species, findings  # noqa: PLC0415  numpy costs
    from bot.pictures.notes.figures_told import cells_of  # noqa: PLC0415

    own = by_species(read_shelf(turn.work, turn.shelf_id).records(), species).get(species, [])
    wanted = _ABOUT[kind] if kind else _TOLD
    found = [finding for finding in findings(own, turn.today) if finding.figure in wanted]
    if not found:
        return []
    few = len(own) < ENOUGH
    animals = wording.counted(len(own), "animal")
    head = say("evidence.few", animals=animals) if few else say("evidence.head", animals=animals)
    ordered = sorted(found, key=lambda finding: _TOLD.index(finding.figure))
    cells = (cells_of(finding, turn.settings.units, told_few=few) for finding in ordered)
    return [
        head,
        *(
            say("evidence.line", what=what, value=value, range=span, basis=basis)
            for what, value, span, basis in cells
        ),
    ]
