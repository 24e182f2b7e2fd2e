"""The outbox: requests to a front end, committed with what caused them and sent at least once."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from typing import Any, Final

from sqlalchemy import Connection, bindparam, delete, func, select, update

from storage import tables as t
from storage.dialect import AnyRow, Claim, InsertUnlessThere
from storage.records import Outgoing

#: How long a claimed request is left to its claimer before another may try it.
CLAIM: Final = timedelta(minutes=2)

_O = t.outbox.c
_PUT = InsertUnlessThere(t.outbox, _O.id)
_WAITS = (_O.sent_at.is_(None), _O.failed_at.is_(None))
_EARLIER = t.outbox.alias("earlier")
_READ = select(
    _O.id, _O.keeper_id, _O.chat, _O.method, _O.payload, _O.key, _O.at, _O.not_before, _O.tries, _O.why
)
_WAITING = (
    _READ.where(*_WAITS, _O.not_before <= bindparam("now"))
    .order_by(_O.not_before, _O.id)
    .limit(bindparam("most"))
)
_TRIED_EARLIER = (
    select(_EARLIER.c.id)
    .where(
        _EARLIER.c.chat == _O.chat,
        _EARLIER.c.id < _O.id,
        _EARLIER.c.sent_at.is_(None),
        _EARLIER.c.failed_at.is_(None),
        (_EARLIER.c.tries > 0) | (_EARLIER.c.not_before <= bindparam("now")),
    )
    .exists()
)
_CLAIMABLE = Claim(_WAITING.where(~_TRIED_EARLIER), of=t.outbox)
_OF_NUMBER = update(t.outbox).where(_O.id == bindparam("number"), *_WAITS)
_CLAIMED = _OF_NUMBER.values(not_before=bindparam("until"), tries=_O.tries + 1)
_SENT = _OF_NUMBER.values(sent_at=bindparam("when"), message_ref=bindparam("ref"))
_FAILED = _OF_NUMBER.values(failed_at=bindparam("when"), why=bindparam("reason"))
_LATER = _OF_NUMBER.values(not_before=bindparam("then"), why=bindparam("reason"), tries=_O.tries + 1)
_DROP = delete(t.outbox).where(_O.id == bindparam("number"))
_BEHIND_IT = (
    update(t.outbox)
    .where(
        _O.chat == select(_EARLIER.c.chat).where(_EARLIER.c.id == bindparam("number")).scalar_subquery(),
        _O.id > bindparam("number"),
        _O.not_before < bindparam("then"),
        *_WAITS,
    )
    .values(not_before=bindparam("then"))
)


_IN_CHAT = select(func.count()).select_from(
    select(_O.id).where(_O.chat == bindparam("chat_"), *_WAITS).limit(bindparam("most")).subquery()
)
_BUT_OF = _READ.where(
    *_WAITS, _O.not_before <= bindparam("now"), _O.chat.not_in(bindparam("without", expanding=True))
)
_WAITING_BUT_OF = _BUT_OF.order_by(_O.not_before, _O.id).limit(bindparam("most"))
_OLDEST = (
    select(_O.not_before)
    .where(*_WAITS, _O.not_before <= bindparam("now"))
    .order_by(_O.not_before, _O.id)
    .limit(1)
)
_SWEPT = (
    select(_O.id)
    .where((_O.sent_at < bindparam("before")) | (_O.failed_at < bindparam("before")))
    .order_by(_O.id)
    .limit(bindparam("most"))
)
_SWEEP = delete(t.outbox).where(_O.id.in_(_SWEPT))


class Outbox:
    """Requests that wait to be sent."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def put(
        self,
        *,
        keeper_id: int | None,
        chat: str,
        method: str,
        payload: Mapping[str, Any],
        at: datetime,
        not_before: datetime | None = None,
        key: str | None = None,
    ) -> int | None:
        """Keeps a request to be sent, not before a moment. ``None`` where that key is there already."""
        values = {
            "keeper_id": keeper_id,
            "chat": chat,
            "method": method,
            "payload": dict(payload),
            "key": key,
            "at": at,
            "not_before": not_before or at,
            "tries": 0,
        }
        number = _PUT(self._db, values)
        return None if number is None else int(number)

    def waiting(self, now: datetime, limit: int, *, without: Collection[str] = ()) -> tuple[Outgoing, ...]:
        """Requests whose time has come, the longest due first; none of some chats."""
        values: dict[str, Any] = {"now": now, "most": limit}
        if without:
            rows = self._db.execute(_WAITING_BUT_OF, values | {"without": list(without)})
        else:
            rows = self._db.execute(_WAITING, values)
        return tuple(_outgoing_from(row) for row in rows)

    def waits_in(self, chat: str, *, most: int) -> int:
        """How many requests to a chat wait, counted up to ``most``."""
        return int(self._db.execute(_IN_CHAT, {"chat_": chat, "most": most}).scalar_one())

    def oldest(self, now: datetime) -> datetime | None:
        """When the request was due that has waited longest."""
        at: datetime | None = self._db.execute(_OLDEST, {"now": now}).scalar()
        return at

    def claim(self, now: datetime, limit: int, *, lease: timedelta = CLAIM) -> tuple[Outgoing, ...]:
        """Takes requests for one of several senders: the first of each chat, nobody else's.

        Each is out of the others' sight until the lease ends, then it may be tried again.
        """
        rows = _CLAIMABLE(self._db, {"now": now, "most": limit})
        if rows:
            self._db.execute(_CLAIMED, [{"number": row.id, "until": now + lease} for row in rows])
        return tuple(_outgoing_from(row) for row in rows)

    def claimed(self, outgoing_id: int, *, at: datetime) -> bool:
        """Notes that a request is about to be sent; should its sender die, it waits again after a while."""
        values = {"number": outgoing_id, "until": at + CLAIM}
        return self._db.execute(_CLAIMED, values).rowcount == 1

    def sent(self, outgoing_id: int, *, message_ref: str | None, at: datetime) -> bool:
        """Notes that it was sent, and as which message."""
        values = {"number": outgoing_id, "when": at, "ref": message_ref}
        return self._db.execute(_SENT, values).rowcount == 1

    def later(self, outgoing_id: int, not_before: datetime, why: str) -> None:
        """Tries it again later; what stands behind it in the same chat stays behind it."""
        self._db.execute(_LATER, {"number": outgoing_id, "then": not_before, "reason": why})
        self._db.execute(_BEHIND_IT, {"number": outgoing_id, "then": not_before})

    def failed(self, outgoing_id: int, why: str, *, at: datetime) -> None:
        """Gives it up; it is kept, with the reason."""
        self._db.execute(_FAILED, {"number": outgoing_id, "when": at, "reason": why})

    def drop(self, outgoing_id: int) -> None:
        """Keeps nothing of a request, whatever became of it."""
        self._db.execute(_DROP, {"number": outgoing_id})

    def sweep(self, before: datetime, *, limit: int) -> int:
        """Drops requests that were sent or given up before a moment, with their keys; gives how many."""
        return int(self._db.execute(_SWEEP, {"before": before, "most": limit}).rowcount)


def _outgoing_from(row: AnyRow) -> Outgoing:
    return Outgoing(
        id=row.id,
        keeper_id=row.keeper_id,
        chat=row.chat,
        method=row.method,
        payload=row.payload,
        key=row.key,
        at=row.at,
        not_before=row.not_before,
        tries=row.tries,
        why=row.why,
    )
