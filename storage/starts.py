"""What a specimen was added as: where the fold of its entries begins."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from typing import Any, Final

from sqlalchemy import Connection, bindparam, select

from bot.husbandry.state import SpecimenState
from storage import tables as t
from storage.facts import start_of

_ADDED: Final = select(t.specimen.c.id, t.specimen.c.added_as, t.specimen.c.added_on).where(
    t.specimen.c.id.in_(bindparam("numbers", expanding=True))
)
#: The alterations in force of some specimens, in the order in which they were told.
ALTERATIONS: Final = (
    select(t.alteration.c.specimen_id, t.alteration.c.change_id, t.alteration.c.fields)
    .join_from(t.alteration, t.change, t.change.c.id == t.alteration.c.change_id)
    .where(
        t.alteration.c.specimen_id.in_(bindparam("numbers", expanding=True)), t.change.c.undone_at.is_(None)
    )
    .order_by(t.alteration.c.id)
)
#: What a keeper may put right of a card that is a field of the state too.
_SAID: Final = ("sex", "stage")


def starts_of(connection: Connection, numbers: Collection[int]) -> Mapping[int, SpecimenState]:
    """The states before the first entry of some specimens, by their numbers.

    Sex and stage are by the card as the keeper has put it right since.
    """
    chosen = {"numbers": list(numbers)}
    added: dict[int, tuple[dict[str, Any], date]] = {
        row.id: (dict(row.added_as), row.added_on) for row in connection.execute(_ADDED, chosen)
    }
    for row in connection.execute(ALTERATIONS, chosen):
        added[row.specimen_id][0].update({name: row.fields[name] for name in _SAID if name in row.fields})
    return {number: start_of(came_as, on) for number, (came_as, on) in added.items()}
