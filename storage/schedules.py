"""How often a keeper wants the animals of a species, a stage or the whole shelf fed and watered."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any, Final

from sqlalchemy import Connection, bindparam, insert, select

from bot.terms.schedule import NOTHING_SAID, Care, Group, Schedule, Scope, SlowMonths
from storage import tables as t
from storage.changes import shelf_of_change

_SLOW: Final = "slow"
_INSERT = insert(t.schedule)
_LIVE = (
    select(
        t.schedule.c.work,
        t.schedule.c.scope,
        t.schedule.c.value,
        t.schedule.c.every_days,
        t.schedule.c.first_month,
        t.schedule.c.last_month,
    )
    .where(t.schedule.c.shelf_id == bindparam("shelf"), t.schedule.c.live)
    .order_by(t.schedule.c.id)
)


class Schedules:
    """What was said for groups of a shelf. The latest word in force for a work and a group counts."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def set(self, change_id: int, work: Care, group: Group, every_days: int | None) -> None:
        """So often, from now on; ``None`` for the rule again. Undone with its change."""
        scope, value = group.scope.value, group.value
        self._say(change_id, work=work.value, scope=scope, value=value, every_days=every_days)

    def set_slow(self, change_id: int, months: SlowMonths | None) -> None:
        """The months in which the rule's meals come less often; ``None`` for none. Undone with its change."""
        first, last = (None, None) if months is None else (months.first, months.last)
        self._say(change_id, work=_SLOW, scope=Scope.SHELF.value, first_month=first, last_month=last)

    def _say(self, change_id: int, **said: Any) -> None:
        shelf_id = shelf_of_change(self._db, change_id)
        self._db.execute(_INSERT, {"shelf_id": shelf_id, "change_id": change_id, "live": True, **said})

    def current(self, shelf_id: int) -> Schedule:
        """All that holds now."""
        every: dict[tuple[Care, Group], int | None] = {}
        slow: SlowMonths | None = None
        with self._db.execute(_LIVE, {"shelf": shelf_id}) as rows:
            for work, scope, value, every_days, first_month, last_month in rows:
                if work == _SLOW:
                    slow = SlowMonths(first_month, last_month) if first_month else None
                else:
                    every[Care(work), Group(Scope(scope), value)] = every_days
        said = {key: days for key, days in every.items() if days is not None}
        if not said and slow is None:
            return NOTHING_SAID
        return Schedule(MappingProxyType(said), slow)
