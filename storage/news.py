"""News: changes of a shelf that its other keepers have still to hear of."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from sqlalchemy import Connection, bindparam, delete, func, insert, or_, select, update

from storage import tables as t
from storage.dialect import Claim
from storage.records import Role, StoredNews

_N, _M = t.news.c, t.membership.c
_INSERT = insert(t.news)
_OTHERS = (
    select(_M.keeper_id)
    .where(
        _M.shelf_id == bindparam("shelf"),
        _M.keeper_id != bindparam("keeper"),
        _M.role != Role.HELPER.value,
        or_(_M.from_day.is_(None), _M.from_day <= bindparam("day")),
        or_(_M.until_day.is_(None), _M.until_day >= bindparam("day")),
    )
    .distinct()
    .order_by(_M.keeper_id)
)
_DUE = (
    select(_N.keeper_id)
    .join_from(t.news, t.keeper, t.keeper.c.id == _N.keeper_id)
    .where(_N.told_at.is_(None), _N.due_at <= bindparam("now"), ~t.keeper.c.paused)
    .group_by(_N.keeper_id)
    .order_by(func.min(_N.due_at), _N.keeper_id)
    .limit(bindparam("most"))
)
_WAITING = Claim(
    select(_N.id, _N.shelf_id, _N.change_id, _N.at)
    .where(_N.keeper_id == bindparam("keeper"), _N.told_at.is_(None))
    .order_by(_N.id),
    of=t.news,
)
_TOLD = update(t.news).where(_N.id == bindparam("number")).values(told_at=bindparam("when"))
_LATER = (
    update(t.news)
    .where(_N.keeper_id == bindparam("keeper"), _N.told_at.is_(None))
    .values(due_at=bindparam("then"))
)
_SWEPT = select(_N.id).where(_N.told_at < bindparam("before")).order_by(_N.id).limit(bindparam("most"))
_SWEEP = delete(t.news).where(_N.id.in_(_SWEPT))
_WAS_TOLD = (
    select(_N.id)
    .where(_N.keeper_id == bindparam("keeper"), _N.change_id == bindparam("change"), _N.told_at.is_not(None))
    .limit(1)
)


class News:
    """What the other keepers of a shelf have still to hear, each thing once."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def others(self, shelf_id: int, keeper_id: int, *, on: object) -> tuple[int, ...]:
        """The other keepers of a shelf on a day; helpers are not told of what happens."""
        chosen = {"shelf": shelf_id, "keeper": keeper_id, "day": on}
        return tuple(self._db.execute(_OTHERS, chosen).scalars())

    def add(
        self, keepers: Iterable[int], shelf_id: int, changes: Sequence[int], *, at: datetime, due_at: datetime
    ) -> None:
        """Keeps changes to be told to keepers, not before a moment."""
        rows = [
            {"keeper_id": keeper, "shelf_id": shelf_id, "change_id": change, "at": at, "due_at": due_at}
            for keeper in keepers
            for change in changes
        ]
        if rows:
            self._db.execute(_INSERT, rows)

    def due(self, now: datetime, limit: int) -> tuple[int, ...]:
        """Keepers to whom something is to be told now, the longest waiting first; the paused wait."""
        return tuple(self._db.execute(_DUE, {"now": now, "most": limit}).scalars())

    def waiting(self, keeper_id: int) -> tuple[StoredNews, ...]:
        """All that one keeper has still to hear, in the order in which it happened; for one worker alone."""
        rows = _WAITING(self._db, {"keeper": keeper_id})
        return tuple(
            StoredNews(id=row.id, shelf_id=row.shelf_id, change_id=row.change_id, at=row.at) for row in rows
        )

    def told(self, numbers: Iterable[int], *, at: datetime) -> None:
        """Notes that these were told, or are not worth telling any more."""
        rows = [{"number": number, "when": at} for number in numbers]
        if rows:
            self._db.execute(_TOLD, rows)

    def later(self, keeper_id: int, due_at: datetime) -> None:
        """Puts off all that a keeper has still to hear."""
        self._db.execute(_LATER, {"keeper": keeper_id, "then": due_at})

    def was_told(self, keeper_id: int, change_id: int) -> bool:
        """Whether a keeper has heard of a change before, as far back as :meth:`sweep` left it."""
        return self._db.execute(_WAS_TOLD, {"keeper": keeper_id, "change": change_id}).first() is not None

    def sweep(self, before: datetime, *, limit: int) -> int:
        """Drops what was told before a moment, some at a time; gives how much."""
        return int(self._db.execute(_SWEEP, {"before": before, "most": limit}).rowcount)
