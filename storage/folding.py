"""States that an earlier version kept are worked out anew where this version would keep other ones."""

from __future__ import annotations

import hashlib
import json
from dataclasses import fields
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from itertools import product
from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import select

from bot.husbandry.state import SpecimenState, state_of
from bot.terms import FIELDS_OF, Entry, Kind, PreySize, SacEvent, Stage, WaterHow
from storage import tables as t
from storage.facts import facts_of

if TYPE_CHECKING:
    from storage.store import Store

_BOOKMARK: Final = "states"
_DAY: Final = date(2026, 1, 1)
_START: Final = SpecimenState(stage=Stage.JUVENILE, span_cm=Decimal(4), span_on=_DAY, lot_size=5)
#: Values for the fields of sample entries; fields not named here get a text.
_SAMPLE: Final[dict[str, Any]] = {
    "count": 2,
    "size": PreySize.SMALL,
    "prekilled": True,
    "how": WaterHow.DISH,
    "sex": "female",
    "event": SacEvent.LAID,
    **dict.fromkeys(("ml", "span_cm", "carapace_mm", "weight_g", "price"), Decimal("1.5")),
    **dict.fromkeys(("volume_l", "substrate_cm", "temp_c", "humidity_pct"), Decimal("2.5")),
}


@cache
def fingerprint() -> str:
    """A short text that changes when entries come to add up to something else.

    It is taken of the states that all pairs of full sample entries and all bare ones add up to, and of
    the fields of a state.
    """
    names = [f.name for f in fields(SpecimenState)]
    full = [_full(kind) for kind in Kind]
    samples = [*product(full, full), *((Entry(kind=kind, day=_DAY),) for kind in Kind)]
    facts = [facts_of(state_of(sample, _START)) for sample in samples]
    return hashlib.sha256(json.dumps([names, facts], sort_keys=True).encode()).hexdigest()[:16]


def _full(kind: Kind) -> Entry:
    """An entry with all fields that its kind may have; each kind's of a day of its own."""
    day = _DAY + timedelta(days=list(Kind).index(kind))
    return Entry(kind=kind, day=day, **{name: _SAMPLE.get(name, name) for name in FIELDS_OF[kind]})


def fold_anew_where_outdated(store: Store) -> int:
    """Works out all states of a store whose states another version kept; gives the number of shelves.

    A shelf is a transaction of its own; where the program is stopped midway, it begins again.
    """
    with store.look() as work:
        if work.bookmarks.get(_BOOKMARK).get("fingerprint") == fingerprint():
            return 0
        shelves = work.connection.execute(select(t.shelf.c.id).order_by(t.shelf.c.id)).scalars().all()
    for shelf_id in shelves:
        with store.begin() as work:
            work.journal.rebuild(shelf_id)
    with store.begin() as work:
        work.bookmarks.set(_BOOKMARK, {"fingerprint": fingerprint()})
    return len(shelves)
