"""The species that is named on a command line."""

from __future__ import annotations

from collections.abc import Sequence

from bot.commands.errors import Refusal
from bot.husbandry.evidence import by_species
from bot.husbandry.journal import SpecimenRecord


def of_one_species(
    records: Sequence[SpecimenRecord], said: Sequence[str]
) -> tuple[str, list[SpecimenRecord]]:
    """The scientific name that words on the command line stand for, and the records of its animals.

    Raises :class:`Refusal` where no animal on record is of such a species, or several species fit.
    """
    words = " ".join(said)
    named = by_species(records, words)
    if not named:
        raise Refusal(f"{words}: no animal on record is of that species; write it as on the shelf")
    if len(named) > 1:
        raise Refusal(f"{words}: say which, it may be {' or '.join(named)}")
    ((name, own),) = named.items()
    return name, own
