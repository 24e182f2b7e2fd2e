"""Photo files within a backup: in a table that only the backup's file has, so that it is one file.

A plain copy of a store's file, made by other means, has no such table: it says nothing of the photos, and
a restore from it leaves them as they are.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

from storage.album import Album

_MAKE: Final = "CREATE TABLE photo_file (path TEXT PRIMARY KEY, content BLOB NOT NULL)"
_THERE: Final = "SELECT count(*) FROM sqlite_master WHERE type = 'table' AND name = 'photo_file'"
_PATHS: Final = "SELECT DISTINCT path FROM photo WHERE path IS NOT NULL AND path <> '' ORDER BY path"


def put_in(copy: Path, album: Album | None) -> int:
    """Puts the files that the copy's rows tell of into it; gives how many. A file that is gone is left out.

    Raises ``sqlite3.Error`` and ``OSError``.
    """
    if album is None:
        return 0
    count = 0
    with closing(sqlite3.connect(copy)) as database, database:
        paths = [path for (path,) in database.execute(_PATHS)]
        database.execute(_MAKE)
        for path in paths:
            if (file := album.file(path)) is not None:
                database.execute("INSERT INTO photo_file VALUES (?, ?)", (path, file.read_bytes()))
                count += 1
    return count


def take_out(copy: Path, album: Album | None) -> int:
    """Writes the files that a backup holds into an album, in place of all that is there; gives how many.

    Where the backup holds no files at all, those that are there stay; ones of no row are swept out in time.
    Raises ``sqlite3.Error`` and ``OSError``, with which the album is as it was.
    """
    if album is None:
        return 0
    with closing(sqlite3.connect(f"{copy.absolute().as_uri()}?mode=ro", uri=True)) as database:
        if not _has_files(database):
            return 0
        return album.replace_all(database.execute("SELECT path, content FROM photo_file"))


def without_files(store: Path) -> None:
    """Takes the table out of a restored store, which has its photos beside it."""
    with closing(sqlite3.connect(store, isolation_level=None)) as database:
        if _has_files(database):
            database.execute("DROP TABLE photo_file")
            database.execute("VACUUM")


def _has_files(database: sqlite3.Connection) -> bool:
    return bool(database.execute(_THERE).fetchone()[0])
