"""Copies of a store that are whole: made while it is in use, proved before they count."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from itertools import chain, count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from sqlalchemy import Engine
from sqlalchemy.engine import URL

from storage.album import Album, album_of
from storage.backup_photos import put_in, take_out, without_files
from storage.engine import engine_for, parsed, sqlite_file
from storage.errors import CopyFailedError, StoreError, StoreNotEmptyError
from storage.migrate import refuse_unknown
from storage.move import move
from storage.store import Store

#: The tables that a copy is counted by, and that tell whether a store holds something.
_COUNTED: Final = ("keeper", "specimen", "change", "entry", "outbox")
Counts = Mapping[str, int]
#: How long a restore waits for a store that is just being closed.
_PATIENCE_S: Final = 0.5
_NOT_WHOLE: Final = "That file is not a whole backup; name another."


def backup(url: str, target: Path, *, photos: Path | None = None) -> Counts:
    """Copies a store to a file while it is in use; gives how many rows of which table the copy has.

    The photo files are in it too, from the folder ``photos`` or from beside the store.

    A SQLite store is copied by SQLite's own backup call, so that what stands in the write-ahead log is
    in it; a PostgreSQL store is read as of one moment, into a SQLite file. The copy is checked, and
    appears under its name only once it is whole. Raises :class:`~storage.errors.CopyFailedError`, and
    :class:`~storage.errors.StoreError` where there is no store to be copied.
    """
    if parsed(url).get_backend_name() != "sqlite":
        return _backup_of_server(url, target, album_of(url, photos))
    if not _file_of(parsed(url)).exists():
        raise StoreError("There is no store to copy; name its file.")
    engine = engine_for(url)
    try:
        return copy_file(engine, target, album_of(url, photos))
    finally:
        engine.dispose()


def restore(file: Path, url: str, *, replace: bool = False, photos: Path | None = None) -> Counts:
    """Makes a store what a backup is; an older backup is brought to the current tables.

    The photo files go into the folder ``photos``, or beside the store, in place of what is there.

    A backup of a later version is refused before anything is written; so is a store that is in use,
    and one that holds something unless ``replace``; it is then copied beside itself first. A store on a
    server must be empty. Raises :class:`~storage.errors.StoreTooNewError`,
    :class:`~storage.errors.StoreNotEmptyError`, :class:`~storage.errors.CopyFailedError` or other
    :class:`~storage.errors.StoreError`.
    """
    counts = _checked(file, _NOT_WHOLE)
    refuse_unknown(_revision_of(file), "The backup")
    if parsed(url).get_backend_name() != "sqlite":
        return _restore_to_server(file, url, album_of(url, photos))
    target = _file_of(parsed(url))
    if target.exists() and target.stat().st_size:
        _make_room(url, target, replace=replace, photos=photos)
    engine = engine_for(url)
    try:
        with closing(sqlite3.connect(file)) as source, engine.connect() as connection:
            driver: Any = connection.connection.dbapi_connection
            source.backup(driver)
        without_files(target)
        take_out(file, album_of(url, photos))
    except (OSError, sqlite3.Error) as problem:
        raise CopyFailedError(f"The backup could not be restored ({problem}).") from problem
    finally:
        engine.dispose()
    Store.open(url).close()
    return counts


def _backup_of_server(url: str, target: Path, album: Album | None) -> Counts:
    part = target.with_name(target.name + ".part")
    try:
        part.unlink(missing_ok=True)
        move(url, f"sqlite:///{part}")
        with closing(sqlite3.connect(part)) as copy:
            copy.execute("PRAGMA journal_mode = DELETE")
        put_in(part, album)
        counts = _checked(part, "The copy of the store is damaged; nothing was kept of it.")
        part.replace(target)
    except (OSError, sqlite3.Error) as problem:
        raise CopyFailedError(f"The store could not be copied ({problem}).") from problem
    finally:
        part.unlink(missing_ok=True)
    return counts


def _restore_to_server(file: Path, url: str, album: Album | None) -> Counts:
    """By way of a copy, since an older backup is migrated on the way and has to stay as it is."""
    with TemporaryDirectory() as folder:
        own = Path(folder) / "store.db"
        shutil.copyfile(file, own)
        counts = move(f"sqlite:///{own}", url)
    try:
        take_out(file, album)
    except (OSError, sqlite3.Error) as problem:
        raise CopyFailedError(f"The photos could not be restored ({problem}).") from problem
    return {table: counts[table] for table in _COUNTED}


def copy_file(engine: Engine, target: Path, album: Album | None = None) -> Counts:
    """Copies the SQLite store of an engine to a file, with its photos, checks it, gives its counts."""
    part = target.with_name(target.name + ".part")
    try:
        part.unlink(missing_ok=True)
        with engine.connect() as connection, closing(sqlite3.connect(part)) as copy:
            driver: Any = connection.connection.dbapi_connection
            driver.execute("BEGIN")  # so that what is counted and what is copied are of one moment
            told = _counts(driver)
            driver.backup(copy)
            driver.execute("ROLLBACK")
            copy.execute("PRAGMA journal_mode = DELETE")
        put_in(part, album)
        counts = _checked(part, "The copy of the store is damaged; nothing was kept of it.")
        if counts != told:
            raise CopyFailedError("The copy of the store is not complete; nothing was kept of it.")
        part.replace(target)
    except (OSError, sqlite3.Error) as problem:
        raise CopyFailedError(f"The store could not be copied ({problem}).") from problem
    finally:
        part.unlink(missing_ok=True)
    return counts


def _file_of(url: URL) -> Path:
    file = sqlite_file(url)
    if file is None:
        raise StoreError("Only a store in a file can be copied to a file.")
    return file


def _refuse_in_use(target: Path) -> None:
    """Whoever has a store open would go on with what they know of it, and write that over the backup."""
    with closing(sqlite3.connect(target, timeout=_PATIENCE_S, isolation_level=None)) as database:
        database.execute("PRAGMA locking_mode = EXCLUSIVE")
        try:
            database.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError:
            raise StoreError("The store is in use; stop whatever uses it, then restore.") from None
        database.execute("ROLLBACK")


def _make_room(url: str, target: Path, *, replace: bool, photos: Path | None) -> None:
    """Refuses a store that holds something, or copies it beside itself where it is to be replaced."""
    counts = _checked(target, "The file to be restored to is no store; name another.", whole=False)
    _refuse_in_use(target)
    if not any(counts.values()):
        return
    if not replace:
        raise StoreNotEmptyError("The store is not empty; say --replace to write over it.")
    backup(url, _free_beside(target), photos=photos)


def _free_beside(target: Path) -> Path:
    """A name beside a store that is not taken: an earlier copy may be what is being restored."""
    names = chain([f"{target.name}.replaced"], (f"{target.name}.replaced-{n}" for n in count(2)))
    return next(place for name in names if not (place := target.with_name(name)).exists())


def _checked(file: Path, complaint: str, *, whole: bool = True) -> Counts:
    """The counts of a file that is a store; raises :class:`CopyFailedError` with the complaint."""
    try:
        with closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as copy:
            if whole and copy.execute("PRAGMA integrity_check").fetchone() != ("ok",):
                raise CopyFailedError(complaint)
            copy.execute("SELECT version_num FROM alembic_version").fetchone()
            return _counts(copy)
    except sqlite3.Error as problem:
        raise CopyFailedError(complaint) from problem


def _revision_of(file: Path) -> str:
    """The revision of a file's tables, which a store always has."""
    with closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as copy:
        found = copy.execute("SELECT version_num FROM alembic_version").fetchone()
    if found is None:
        raise CopyFailedError(_NOT_WHOLE)
    return str(found[0])


def _counts(database: sqlite3.Connection) -> Counts:
    """How many rows the counted tables have."""
    return {table: int(database.execute(f"SELECT count(*) FROM {table}").fetchone()[0]) for table in _COUNTED}
