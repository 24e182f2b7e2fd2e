"""Copies of a store that are whole: made while it is in use, proved before they count."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import Engine

from storage.errors import CopyFailedError


def copy_file(engine: Engine, target: Path) -> None:
    """Copies a SQLite store to a file by SQLite's own backup call, and checks the copy.

    The file appears under its name only once it is whole. Raises :class:`CopyFailedError`.
    """
    part = target.with_name(target.name + ".part")
    part.unlink(missing_ok=True)
    try:
        with engine.connect() as connection, closing(sqlite3.connect(part)) as copy:
            driver: Any = connection.connection.dbapi_connection
            driver.rollback()
            driver.backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
        with closing(sqlite3.connect(part)) as copy:
            if copy.execute("PRAGMA integrity_check").fetchone() != ("ok",):
                raise CopyFailedError("The copy of the store is damaged; nothing was kept of it.")
        part.replace(target)
    except (OSError, sqlite3.Error) as problem:
        raise CopyFailedError(f"The store could not be copied: {problem}.") from problem
    finally:
        part.unlink(missing_ok=True)
