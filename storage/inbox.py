"""The inbox: updates are stored before their sender is told, and handled once, in order within a chat."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, bindparam, delete, func, or_, select, update

from storage import tables as t
from storage.dialect import Claim, InsertUnlessThere
from storage.records import Inboxed

_I = t.inbox.c
_PUT = InsertUnlessThere(t.inbox, _I.id)
_WAITS = (_I.done_at.is_(None), _I.aside_at.is_(None))
_EARLIER = t.inbox.alias("earlier")
_IS_FIRST_OF_CHAT = ~(
    select(_EARLIER.c.id)
    .where(
        _EARLIER.c.chat == _I.chat,
        _EARLIER.c.id < _I.id,
        _EARLIER.c.done_at.is_(None),
        _EARLIER.c.aside_at.is_(None),
    )
    .exists()
)
_WAITING = Claim(
    select(_I.id, _I.source, _I.update_id, _I.chat, _I.payload, _I.at)
    .where(*_WAITS, _IS_FIRST_OF_CHAT)
    .order_by(_I.id)
    .limit(bindparam("most")),
    of=t.inbox,
)
_TAKE = Claim(select(_I.id).where(_I.id == bindparam("number"), *_WAITS), of=t.inbox)
_DONE = update(t.inbox).where(_I.id == bindparam("number"), *_WAITS).values(done_at=bindparam("when"))
_ASIDE = (
    update(t.inbox)
    .where(_I.id == bindparam("number"), *_WAITS)
    .values(aside_at=bindparam("when"), why=bindparam("reason"))
)


_IN_CHAT = select(func.count().label("n")).select_from(
    select(_I.id).where(_I.chat == bindparam("chat_"), *_WAITS).limit(bindparam("most")).subquery()
)
_ASIDE_IN_CHAT = select(func.count().label("n")).select_from(
    select(_I.id)
    .where(_I.chat == bindparam("chat_"), _I.aside_at.is_not(None))
    .limit(bindparam("most"))
    .subquery()
)
_OLDEST = select(_I.at).where(*_WAITS).order_by(_I.id).limit(1)
_IS_OVER = or_(_I.done_at < bindparam("before"), _I.aside_at < bindparam("before"))
_SWEPT = select(_I.id).where(_IS_OVER).order_by(_I.id).limit(bindparam("most"))
_SWEEP = delete(t.inbox).where(_I.id.in_(_SWEPT))


class Inbox:
    """Updates that came and wait to be handled."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def put(
        self,
        source: str,
        update_id: int,
        *,
        chat: str,
        payload: Mapping[str, Any],
        at: datetime,
        writer: str | None = None,
        aside: str | None = None,
    ) -> bool:
        """Stores an update. False where one of that source and number was seen before.

        ``writer`` is who wrote it, as an address at the source, where that can be told. ``aside`` is why it
        is kept but not to be handled.
        """
        values = {
            "source": source,
            "update_id": update_id,
            "chat": chat,
            "payload": dict(payload),
            "at": at,
            "writer": writer,
            "aside_at": None if aside is None else at,
            "why": aside,
        }
        return _PUT(self._db, values) is not None

    def waiting(self, limit: int) -> tuple[Inboxed, ...]:
        """The oldest waiting update of each chat, the oldest first; none that another worker has in hand."""
        rows = _WAITING(self._db, {"most": limit})
        return tuple(
            Inboxed(
                id=row.id,
                source=row.source,
                update_id=row.update_id,
                chat=row.chat,
                payload=row.payload,
                at=row.at,
            )
            for row in rows
        )

    def waits_in(self, chat: str, *, most: int) -> int:
        """How many updates of a chat wait, counted up to ``most``."""
        return int(self._db.execute(_IN_CHAT, {"chat_": chat, "most": most}).scalar_one())

    def aside_in(self, chat: str, *, most: int) -> int:
        """How many updates of a chat are set aside, counted up to ``most``."""
        return int(self._db.execute(_ASIDE_IN_CHAT, {"chat_": chat, "most": most}).scalar_one())

    def oldest(self) -> datetime | None:
        """When the update came that has waited longest."""
        at: datetime | None = self._db.execute(_OLDEST).scalar()
        return at

    def take(self, inboxed_id: int) -> bool:
        """Whether an update seen waiting before is this worker's to handle: in this transaction, no one
        else's. False where it was handled meanwhile, or another worker has it in hand."""
        return bool(_TAKE(self._db, {"number": inboxed_id}))

    def done(self, inboxed_id: int, *, at: datetime) -> bool:
        """Marks an update handled. False where it was handled or set aside already."""
        return self._db.execute(_DONE, {"number": inboxed_id, "when": at}).rowcount == 1

    def set_aside(self, inboxed_id: int, why: str, *, at: datetime) -> bool:
        """Puts an update out of the way that cannot be handled; it is kept for a while, with the reason."""
        values = {"number": inboxed_id, "when": at, "reason": why}
        return self._db.execute(_ASIDE, values).rowcount == 1

    def sweep(self, before: datetime, *, limit: int) -> int:
        """Drops updates that were handled or set aside before a moment, some at a time; gives how many.

        What is dropped would be taken in anew if it came again, so the moment must lie further back than
        its sender's memory.
        """
        return int(self._db.execute(_SWEEP, {"before": before, "most": limit}).rowcount)
