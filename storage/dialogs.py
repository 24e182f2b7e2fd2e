"""Dialogs: what a conversation keeps in mind between two messages."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, bindparam, select

from storage import tables as t
from storage.dialect import Upsert

_GET = select(t.dialog.c.mind).where(
    t.dialog.c.keeper_id == bindparam("keeper"), t.dialog.c.chat == bindparam("chat_")
)
_SET = Upsert(t.dialog, ["mind"])


class Dialogs:
    """One small JSON object for each keeper and chat."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def get(self, keeper_id: int, chat: str) -> dict[str, Any]:
        """What is kept in mind; an empty dict where nothing is."""
        mind = self._db.execute(_GET, {"keeper": keeper_id, "chat_": chat}).scalar()
        return dict(mind) if mind else {}

    def set(self, keeper_id: int, chat: str, mind: Mapping[str, Any]) -> None:
        """Replaces what is kept in mind."""
        _SET(self._db, {"keeper_id": keeper_id, "chat": chat, "mind": dict(mind)})
