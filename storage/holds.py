"""Holds: the keeper's word that a specimen gets no feeding prompts."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlalchemy import Connection, bindparam, func, insert, select

from storage import tables as t
from storage.changes import shelf_of_change
from storage.projection import Projection
from storage.records import Hold

_INSERT = insert(t.hold)
_LATEST = (
    select(func.max(t.hold.c.id))
    .where(t.hold.c.shelf_id == bindparam("shelf"), t.hold.c.live)
    .group_by(t.hold.c.specimen_id)
)
_CURRENT = (
    select(t.specimen.c.tag, t.hold.c.on_day, t.hold.c.until_day)
    .join_from(t.hold, t.specimen, t.specimen.c.id == t.hold.c.specimen_id)
    .where(
        t.hold.c.id.in_(_LATEST),
        t.hold.c.starts,
        t.specimen.c.gone_on.is_(None),
        ~t.specimen.c.void,
    )
    .order_by(t.specimen.c.position, t.specimen.c.id)
)


class Holds:
    """Whose feeding prompts are held. A specimen's latest word in force counts."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def set(self, change_id: int, tags: Iterable[str], *, since: date, until: date | None) -> None:
        """Holds the feeding prompts of specimens from a day on, for good or until a day."""
        self._say(change_id, tags, starts=True, on=since, until=until)

    def end(self, change_id: int, tags: Iterable[str], *, on: date) -> None:
        """Lets the feeding prompts of specimens go on again."""
        self._say(change_id, tags, starts=False, on=on, until=None)

    def _say(
        self, change_id: int, tags: Iterable[str], *, starts: bool, on: date, until: date | None
    ) -> None:
        shelf_id = shelf_of_change(self._db, change_id)
        rows = [
            {
                "shelf_id": shelf_id,
                "change_id": change_id,
                "specimen_id": standing.id,
                "starts": starts,
                "on_day": on,
                "until_day": until,
                "live": True,
            }
            for standing in Projection(self._db).find(int(shelf_id), tags).values()
        ]
        if rows:
            self._db.execute(_INSERT, rows)

    def current(self, shelf_id: int) -> dict[str, Hold]:
        """The holds in force of living specimens, by tag. One whose last day is past is still told."""
        rows = self._db.execute(_CURRENT, {"shelf": shelf_id})
        return {row.tag: Hold(since=row.on_day, until=row.until_day) for row in rows}
