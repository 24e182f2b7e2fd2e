"""Prompts: what the buttons of a reply stand for, answered once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Select, Text, bindparam, cast, delete, insert, or_, select, update

from storage import tables as t
from storage.dialect import AnyRow, new_row
from storage.records import Prompt

_P = t.prompt.c
_INSERT = insert(t.prompt)
_GET = select(t.prompt).where(_P.number == bindparam("number_"))
_OF_CHAT = select(t.prompt).where(_P.keeper_id == bindparam("keeper"), _P.chat == bindparam("chat_"))
_LATEST = _OF_CHAT.order_by(_P.number.desc()).limit(1)
_BY_MESSAGE = _OF_CHAT.where(_P.message_ref == bindparam("ref")).order_by(_P.number.desc()).limit(1)
_ANSWERED = (
    update(t.prompt)
    .where(_P.number == bindparam("number_"), _P.answered_at.is_(None))
    .values(answered_at=bindparam("when"))
)
_OTHERWISE = (
    update(t.prompt)
    .where(_P.number == bindparam("number_"))
    .values(actions=bindparam("actions"), pending=bindparam("pending"))
)
_SHOWN = update(t.prompt).where(_P.number == bindparam("number_")).values(message_ref=bindparam("ref"))
_OPEN = (
    select(t.dialog.c.chat)
    .where(
        t.dialog.c.keeper_id == _P.keeper_id,
        t.dialog.c.chat == _P.chat,
        t.dialog.c.mind["open"].as_integer() == _P.number,
    )
    .exists()
)
#: One that tells of a change stays without its buttons: an answer to its message still finds that change, and
#: takes back no other.
_HOLDS_MORE = or_(_P.change_id.is_(None), cast(_P.actions, Text) != "[]", _P.pending.is_not(None))
_SWEPT = (
    select(_P.number, _P.change_id)
    .where(_P.at < bindparam("before"), _HOLDS_MORE, ~_OPEN)
    .order_by(_P.number)
    .limit(bindparam("most"))
)
_DROP = delete(t.prompt).where(_P.number.in_(bindparam("numbers", expanding=True)))
_EMPTY = (
    update(t.prompt)
    .where(_P.number.in_(bindparam("numbers", expanding=True)))
    .values(actions=[], pending=None)
)


class Prompts:
    """Replies with buttons, by the number that the buttons carry."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def put(
        self,
        keeper_id: int,
        *,
        chat: str,
        actions: Sequence[Mapping[str, Any]],
        pending: Mapping[str, Any] | None,
        change_id: int | None,
        at: datetime,
    ) -> int:
        """Keeps what the buttons stand for, and what waits for a typed answer. Gives its number."""
        values = {
            "keeper_id": keeper_id,
            "chat": chat,
            "actions": list(actions),
            "pending": None if pending is None else dict(pending),
            "change_id": change_id,
            "at": at,
        }
        return new_row(self._db, _INSERT, values)

    def get(self, number: int) -> Prompt | None:
        """The prompt of a number. Whose it is, is for the caller to compare: see ``keeper_id``."""
        return self._first(_GET, number_=number)

    def answered(self, number: int, *, at: datetime) -> bool:
        """Marks it answered. True exactly once, whoever else asks at the same time."""
        return self._db.execute(_ANSWERED, {"number_": number, "when": at}).rowcount == 1

    def shown_as(self, number: int, message_ref: str) -> None:
        """Notes which message of the front end shows it."""
        self._db.execute(_SHOWN, {"number_": number, "ref": message_ref})

    def stand_for(
        self, number: int, actions: Sequence[Mapping[str, Any]], pending: Mapping[str, Any] | None
    ) -> None:
        """Puts other things in place of what its buttons, and what is typed, stand for."""
        values = {"actions": list(actions), "pending": None if pending is None else dict(pending)}
        self._db.execute(_OTHERWISE, {"number_": number, **values})

    def by_message(self, keeper_id: int, chat: str, message_ref: str) -> Prompt | None:
        """The latest prompt that a message shows."""
        return self._first(_BY_MESSAGE, keeper=keeper_id, chat_=chat, ref=message_ref)

    def latest(self, keeper_id: int, chat: str) -> Prompt | None:
        """The keeper's latest prompt in a chat, answered or not."""
        return self._first(_LATEST, keeper=keeper_id, chat_=chat)

    def sweep(self, before: datetime, *, limit: int) -> int:
        """Drops what prompts from before a moment stood for, some at a time; gives of how many.

        One that a dialog still has open stays as it is; of one that tells of a change stays which.
        """
        rows = self._db.execute(_SWEPT, {"before": before, "most": limit}).all()
        for statement, numbers in (
            (_DROP, [row.number for row in rows if row.change_id is None]),
            (_EMPTY, [row.number for row in rows if row.change_id is not None]),
        ):
            if numbers:
                self._db.execute(statement, {"numbers": numbers})
        return len(rows)

    def _first(self, query: Select[Any], **values: Any) -> Prompt | None:
        row = self._db.execute(query, values).first()
        return _prompt_from(row) if row else None


def _prompt_from(row: AnyRow) -> Prompt:
    return Prompt(
        number=row.number,
        keeper_id=row.keeper_id,
        chat=row.chat,
        actions=tuple(row.actions),
        pending=row.pending,
        change_id=row.change_id,
        message_ref=row.message_ref,
        at=row.at,
        answered_at=row.answered_at,
    )
