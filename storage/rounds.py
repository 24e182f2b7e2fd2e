"""Round occurrences: one for each keeper and day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy import Connection, bindparam, delete, select, update

from storage import tables as t
from storage.dialect import AnyRow, InsertUnlessThere
from storage.records import Occurrence, ShownRound

#: So many messages that show a round are known: one in each chat where it was asked for.
_KNOWN_MESSAGES: Final = 4
_OPEN = InsertUnlessThere(t.occurrence, t.occurrence.c.id)
_OF_KEEPER = select(t.occurrence).where(t.occurrence.c.keeper_id == bindparam("keeper"))
_OF_DAY = _OF_KEEPER.where(t.occurrence.c.day == bindparam("on"))
_OF_ID = select(t.occurrence).where(t.occurrence.c.id == bindparam("number"))
_SHOWN_OF = (
    select(t.occurrence)
    .where(
        t.occurrence.c.shelf_id == bindparam("shelf"),
        t.occurrence.c.day >= bindparam("since"),
        t.occurrence.c.shown_in.is_not(None),
    )
    .order_by(t.occurrence.c.id)
)
_LATEST = _OF_KEEPER.order_by(t.occurrence.c.day.desc()).limit(1)
_OF_NUMBER = update(t.occurrence).where(t.occurrence.c.id == bindparam("number"))
_SAVE = _OF_NUMBER.values(tasks=bindparam("new_tasks"))
_REOPEN = _OF_NUMBER.values(tasks=bindparam("new_tasks"), closed_at=None)
_COME = _OF_NUMBER.values(opened_at=t.occurrence.c.due_at)
_SHOWS = _OF_NUMBER.values(shown_in=bindparam("shows"))
_CLOSE = _OF_NUMBER.values(closed_at=bindparam("when"))
_SWEPT = (
    select(t.occurrence.c.id)
    .where(t.occurrence.c.day < bindparam("before"))
    .order_by(t.occurrence.c.id)
    .limit(bindparam("most"))
)
_SWEEP = delete(t.occurrence).where(t.occurrence.c.id.in_(_SWEPT))


class Rounds:
    """The rounds that were sent, and how far they are done."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def open_(
        self,
        keeper_id: int,
        shelf_id: int,
        day: date,
        *,
        due_at: datetime,
        tasks: Sequence[Mapping[str, Any]],
        at: datetime,
    ) -> Occurrence | None:
        """Opens the round of a keeper's day. ``None`` where that day's exists already."""
        values: dict[str, Any] = {
            "keeper_id": keeper_id,
            "shelf_id": shelf_id,
            "day": day,
            "due_at": due_at,
            "tasks": list(tasks),
            "opened_at": at,
        }
        number = _OPEN(self._db, values)
        if number is None:
            return None
        return Occurrence(
            id=number,
            keeper_id=keeper_id,
            shelf_id=shelf_id,
            day=day,
            due_at=due_at,
            tasks=tuple(tasks),
            opened_at=at,
            closed_at=None,
        )

    def get(self, occurrence_id: int) -> Occurrence | None:
        """The round of a number; ``None`` where it was swept out."""
        row = self._db.execute(_OF_ID, {"number": occurrence_id}).first()
        return _occurrence_from(row) if row else None

    def of_day(self, keeper_id: int, day: date) -> Occurrence | None:
        """The round of a keeper's day."""
        row = self._db.execute(_OF_DAY, {"keeper": keeper_id, "on": day}).first()
        return _occurrence_from(row) if row else None

    def latest(self, keeper_id: int) -> Occurrence | None:
        """The round of the latest day that has one."""
        row = self._db.execute(_LATEST, {"keeper": keeper_id}).first()
        return _occurrence_from(row) if row else None

    def save(self, occurrence_id: int, tasks: Sequence[Mapping[str, Any]]) -> None:
        """Replaces the tasks, as when some are done."""
        self._db.execute(_SAVE, {"number": occurrence_id, "new_tasks": list(tasks)})

    def shown_on(self, shelf_id: int, since: date) -> tuple[Occurrence, ...]:
        """The rounds of a shelf, from a day on, of which a message is known that shows them."""
        rows = self._db.execute(_SHOWN_OF, {"shelf": shelf_id, "since": since})
        return tuple(map(_occurrence_from, rows))

    def shown_by(self, occurrence_id: int, message: ShownRound) -> None:
        """Notes that a message shows a round, in place of an earlier one in its chat."""
        row = self.get(occurrence_id)
        before = [one for one in row.shown_in if one.chat != message.chat] if row else []
        shows = [[one.chat, one.prompt, one.mark] for one in [*before, message][-_KNOWN_MESSAGES:]]
        self._db.execute(_SHOWS, {"number": occurrence_id, "shows": shows})

    def reopen(self, occurrence_id: int, tasks: Sequence[Mapping[str, Any]]) -> None:
        """Opens a round once more, with these tasks."""
        self._db.execute(_REOPEN, {"number": occurrence_id, "new_tasks": list(tasks)})

    def has_come(self, occurrence_id: int) -> None:
        """A round that was asked for before its time has come by itself as well."""
        self._db.execute(_COME, {"number": occurrence_id})

    def close(self, occurrence_id: int, at: datetime) -> None:
        """Nothing of it is left to do or to ask."""
        self._db.execute(_CLOSE, {"number": occurrence_id, "when": at})

    def sweep(self, before: date, *, limit: int) -> int:
        """Drops the rounds of days before a day, closed or never answered, some at a time; gives how many."""
        return int(self._db.execute(_SWEEP, {"before": before, "most": limit}).rowcount)


def _occurrence_from(row: AnyRow) -> Occurrence:
    return Occurrence(
        id=row.id,
        keeper_id=row.keeper_id,
        shelf_id=row.shelf_id,
        day=row.day,
        due_at=row.due_at,
        tasks=tuple(row.tasks),
        opened_at=row.opened_at,
        closed_at=row.closed_at,
        shown_in=tuple(ShownRound(*one) for one in row.shown_in or ()),
    )
