"""What a specimen was added as: where the fold of its entries begins."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from datetime import date
from typing import Any, Final

from sqlalchemy import Connection, bindparam, select

from bot.husbandry.as_of import StagesSaid
from bot.husbandry.state import SpecimenState
from bot.terms import Stage
from storage import tables as t
from storage.facts import start_of
from storage.rows import STAGES

_ADDED: Final = select(t.specimen.c.id, t.specimen.c.added_as, t.specimen.c.added_on).where(
    t.specimen.c.id.in_(bindparam("numbers", expanding=True))
)
#: The alterations in force of some specimens, in the order in which they were told.
ALTERATIONS: Final = (
    select(t.alteration.c.specimen_id, t.alteration.c.change_id, t.alteration.c.fields, t.change.c.at)
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


def stages_said(connection: Connection, numbers: Collection[int]) -> Mapping[int, StagesSaid]:
    """What was said of the stages of some specimens, by their numbers: on adding each, and since.

    What it was added as holds from the day on which it came, a later word from the day on which it was told.
    """
    chosen = {"numbers": list(numbers)}
    said: defaultdict[int, list[tuple[date, Stage]]] = defaultdict(list)
    for added in connection.execute(_ADDED, chosen):
        said[added.id].append((added.added_on, STAGES[added.added_as["stage"]]))
    for row in connection.execute(ALTERATIONS, chosen):
        if "stage" in row.fields:
            said[row.specimen_id].append((row.at.date(), STAGES[row.fields["stage"]]))
    return said
