"""What only one of all processes may do at a time: send, or poll.

On PostgreSQL the right is an advisory lock of a connection kept for it. It ends with that connection, so
a process that is killed leaves it to the next at once, and nobody's clock matters. A SQLite file is used
by one process, which has every right.
"""

from __future__ import annotations

import hashlib
import logging
from typing import Final

from sqlalchemy import Connection, text
from sqlalchemy.exc import SQLAlchemyError

from storage.store import Store

_log = logging.getLogger(__name__)

_TRY: Final = text("SELECT pg_try_advisory_lock(:key)")
_LET_GO: Final = text("SELECT pg_advisory_unlock(:key)")
_STILL_THERE: Final = text("SELECT 1")


class SoleRight:
    """One right, by its name. Blocking; for one thread at a time."""

    def __init__(self, store: Store, name: str) -> None:
        self._engine, self.name = store.engine, name
        self._shared = self._engine.dialect.name == "postgresql"
        self._key = int.from_bytes(hashlib.sha256(f"burrowbell {name}".encode()).digest()[:8], signed=True)
        self._kept: Connection | None = None

    def held(self) -> bool:
        """Whether this process has the right now, taking it where nobody has it. False without a server."""
        if not self._shared:
            return True
        try:
            return self._still_held() if self._kept is not None else self._taken()
        except SQLAlchemyError:
            _log.warning("a right was lost with its connection", extra={"right": self.name})
            self._drop()
            return False

    def release(self) -> None:
        """Leaves the right to others."""
        if self._kept is None:
            return
        try:
            self._kept.execute(_LET_GO, {"key": self._key})
        except SQLAlchemyError:
            _log.warning("a right was lost with its connection", extra={"right": self.name})
        self._drop()

    def _taken(self) -> bool:
        connection = self._engine.connect().execution_options(isolation_level="AUTOCOMMIT")
        if connection.execute(_TRY, {"key": self._key}).scalar():
            self._kept = connection
            return True
        connection.close()
        return False

    def _still_held(self) -> bool:
        assert self._kept is not None
        self._kept.execute(_STILL_THERE)
        return True

    def _drop(self) -> None:
        kept, self._kept = self._kept, None
        if kept is not None:
            kept.invalidate()
            kept.close()
