"""Bookmarks: what a part of the program notes for its next start, as when it last heard anything."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, bindparam, select

from storage import tables as t
from storage.dialect import Upsert

_GET = select(t.bookmark.c.mark).where(t.bookmark.c.name == bindparam("wanted"))
_SET = Upsert(t.bookmark, ["mark"])


class Bookmarks:
    """One small JSON object for each name. Nothing of a keeper belongs here."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def get(self, name: str) -> dict[str, Any]:
        """What was noted under a name; an empty dict where nothing was."""
        mark = self._db.execute(_GET, {"wanted": name}).scalar()
        return dict(mark) if mark else {}

    def set(self, name: str, mark: Mapping[str, Any]) -> None:
        """Replaces what is noted under a name."""
        _SET(self._db, {"name": name, "mark": dict(mark)})
