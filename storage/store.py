"""The store: opened by URL, worked with in transactions."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import InterfaceError, OperationalError, StatementError

from storage.album import album_of
from storage.engine import engine_for, parsed, sqlite_file, will_write
from storage.errors import StoreError, StoreUnavailableError
from storage.folding import fold_anew_where_outdated
from storage.migrate import bring_up_to_date
from storage.turns import Turns
from storage.work import Work

#: What a database's own complaint means for the person at the keyboard.
_MEANINGS: Final = (
    ("disk is full", "The disk is full; free some space and try again."),
    ("No space left", "The disk is full; free some space and try again."),
    ("locked", "The store is busy with another program's write; try again."),
    ("malformed", "The store is damaged; restore the last backup."),
    ("not a database", "That file is not a store; name another."),
    ("readonly", "The store cannot be written to; check the file's permissions."),
    ("read-only", "The store cannot be written to; check the file's permissions."),
    ("connection", "The database server cannot be reached; check that it runs, and the store's URL."),
    ("unable to open", "The store cannot be opened; check that its folder is there and may be written to."),
)


#: What PostgreSQL calls reading as of one moment; SQLite always does.
_ONE_MOMENT: Final = "REPEATABLE READ"


class Store:
    """A store of shelves. Safe to use from several threads: writers take turns, readers do not wait.

    With SQLite the turns are in the order in which they were asked for: nobody waits longer than for those
    who came before, whatever is worked through meanwhile.

    In memory there is one connection only, for which readers take turns as well.
    """

    def __init__(self, engine: Engine, url: str, photos: Path | None = None) -> None:
        self.url = url
        self.album = album_of(url, photos)
        self._engine = engine
        address = parsed(url)
        self._is_sqlite = address.get_backend_name() == "sqlite"
        self._in_memory = self._is_sqlite and sqlite_file(address) is None
        self._reading = engine if self._is_sqlite else engine.execution_options(isolation_level=_ONE_MOMENT)
        self._turn = Turns()
        self._nested = threading.local()

    @classmethod
    def open(cls, url: str, *, photos: Path | None = None) -> Store:
        """Opens a store and brings its tables and states up to date; makes one where there is none.

        ``photos`` is the folder of its photo files; beside a SQLite file they need none named.

        Raises :class:`~storage.errors.StoreTooNewError` for a store of a later version, other
        :class:`StoreError` for what is no store or cannot be reached.
        """
        engine = engine_for(url)
        try:
            with _told_plainly():
                bring_up_to_date(engine, engine.url)
            store = cls(engine, url, photos)
            fold_anew_where_outdated(store)
        except BaseException:
            engine.dispose()
            raise
        return store

    @property
    def engine(self) -> Engine:
        """The engine, for whoever has to look at the database as such."""
        return self._engine

    @property
    def waiting(self) -> int:
        """How many threads wait for their turn at the store."""
        return self._turn.waiting

    @contextmanager
    def begin(self) -> Iterator[Work]:
        """One write transaction: committed at the end of the block, or nothing of it where it raises."""
        with self.writer() as connection:
            work = Work(connection, self.album)
            yield work
        for step in work.afterwards:
            step()

    @contextmanager
    def look(self) -> Iterator[Work]:
        """One read transaction: all that is read in the block is of one moment. Writes are not kept."""
        with self.reader() as connection:
            yield Work(connection, self.album)

    @contextmanager
    def writer(self) -> Iterator[Connection]:
        """The connection of a write transaction, for what works on tables as such."""
        turn = self._turn if self._is_sqlite else nullcontext()
        with self._alone(), turn, _told_plainly(), self._engine.connect() as connection:
            will_write(connection, writes=True)
            with connection.begin():
                yield connection

    @contextmanager
    def reader(self) -> Iterator[Connection]:
        """The connection of a read transaction, for what works on tables as such."""
        turn = self._turn if self._in_memory else nullcontext()
        with self._alone(), turn, _told_plainly(), self._reading.connect() as connection:
            will_write(connection, writes=False)
            yield connection

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Refuses a transaction within another of the same thread, which would wait for itself."""
        if getattr(self._nested, "within", False):
            raise StoreError("A transaction cannot be begun within another; hand the work on.")
        self._nested.within = True
        try:
            yield
        finally:
            self._nested.within = False

    def close(self) -> None:
        """Closes all connections. What was committed stays."""
        self._engine.dispose()


@contextmanager
def _told_plainly() -> Iterator[None]:
    """Turns the database's complaint that it cannot be used into one line that says what to do."""
    try:
        yield
    except (OperationalError, InterfaceError, sqlite3.OperationalError) as problem:
        raise StoreUnavailableError(_meaning(problem)) from problem
    except (StatementError, sqlite3.DatabaseError) as problem:
        refused = getattr(problem, "orig", None)
        if isinstance(refused, StoreError):  # a value that a column's type does not take
            raise refused from None
        if any(words in str(refused or problem) for words in ("malformed", "not a database")):
            raise StoreUnavailableError(_meaning(problem)) from problem
        raise


def _meaning(problem: Exception) -> str:
    complaint = str(getattr(problem, "orig", None) or problem)
    for words, meaning in _MEANINGS:
        if words in complaint:
            return meaning
    return "The store cannot be used just now; see the log, and try again."
