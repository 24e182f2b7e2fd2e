"""The engine: how each database is opened so that what is committed stays, and who waits for whom."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Mapping
from pathlib import Path
from time import monotonic, sleep
from typing import Any, Final

from pydantic_core import from_json
from sqlalchemy import JSON, Connection, Engine, create_engine, event
from sqlalchemy.dialects import registry
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite
from sqlalchemy.engine import URL, Dialect, make_url
from sqlalchemy.exc import ArgumentError, InterfaceError, OperationalError
from sqlalchemy.pool import QueuePool, StaticPool

from storage.errors import StoreError, StoreUnavailableError
from storage.fence import put_in_service

#: How long a writer waits for another process's write to end.
BUSY_TIMEOUT_MS: Final = 10_000
_A_MOMENT_S: Final = 0.01

_PRAGMAS: Final = (
    f"PRAGMA busy_timeout = {BUSY_TIMEOUT_MS}",
    "PRAGMA journal_mode = WAL",
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
    "PRAGMA temp_store = MEMORY",
)

#: What holds for every database: JSON as plain as can be, and no keeper's words in an error's text.
_ALIKE: Final[Mapping[str, Any]] = {
    "json_serializer": json.JSONEncoder(separators=(",", ":"), allow_nan=False).encode,
    "hide_parameters": True,
}


def _from_json(text: str | None) -> Any:
    """The value of a JSON column, which this program wrote; a list most often empty."""
    if text == "[]":
        return []
    if text is None:
        return None
    try:
        return from_json(text)
    except ValueError:  # it takes no half of a surrogate pair, and no great depth, which a payload may have
        return json.loads(text)


class _PlainJson(JSON):
    """JSON that this program alone writes: read without steps for what others may have written."""

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[str | None], Any]:
        """What makes a value of its text."""
        return _from_json


#: Where a pooled connection notes that its next transaction is to begin as a write.
_WRITES: Final = "burrowbell_writes"


class WholeTransactions(SQLiteDialect_pysqlite):
    """SQLite with transactions that begin when they are begun, and not at the driver's choice.

    A transaction begins as a write unless :func:`will_write` denied it: one that begins as a read and
    then wants to write may find no way to go on.
    """

    supports_statement_cache = True
    colspecs = SQLiteDialect_pysqlite.colspecs | {JSON: _PlainJson}

    def on_connect(self) -> Callable[[Any], None]:
        """What is done with each new connection: transactions into our hands, and its settings."""
        as_usual = super().on_connect()

        def prepare(raw: Any) -> None:
            if as_usual is not None:
                as_usual(raw)
            raw.isolation_level = None
            for pragma in _PRAGMAS:
                _set(raw, pragma)

        return prepare

    def do_begin(self, dbapi_connection: Any) -> None:
        """Begins a transaction."""
        writes = dbapi_connection.info.get(_WRITES, True)
        dbapi_connection.dbapi_connection.execute("BEGIN IMMEDIATE" if writes else "BEGIN")


def _set(raw: Any, pragma: str) -> None:
    """Sets a setting. Of two that make a new journal at once one is refused without being kept waiting."""
    give_up = monotonic() + BUSY_TIMEOUT_MS / 1000
    while True:
        try:
            raw.execute(pragma).close()
        except sqlite3.OperationalError as refused:
            if "locked" not in str(refused) or monotonic() > give_up:
                raise
            sleep(_A_MOMENT_S)
        else:
            return


registry.register("sqlite.whole", "storage.engine", "WholeTransactions")


def will_write(connection: Connection, *, writes: bool) -> None:
    """Tells how the connection's next transaction is to begin."""
    connection.connection.info[_WRITES] = writes


def writes(connection: Connection) -> bool:
    """Whether the connection's transaction is one that writes."""
    return bool(connection.connection.info.get(_WRITES, True))


def parsed(url: str) -> URL:
    """The URL as SQLAlchemy knows it. Raises :class:`StoreError` for one that names no store we can open."""
    try:
        made = make_url(url)
    except ArgumentError:
        raise StoreError(
            "That is not a store's URL; write sqlite:///PATH or postgresql+psycopg://…"
        ) from None
    if made.get_backend_name() not in {"sqlite", "postgresql"}:
        raise StoreError("Only sqlite:///PATH and postgresql+psycopg://… can hold a store.")
    return made


def sqlite_file(url: URL) -> Path | None:
    """The file of a SQLite URL; ``None`` in memory and for servers."""
    if url.get_backend_name() != "sqlite" or url.database in {None, "", ":memory:"}:
        return None
    return Path(str(url.database))


def engine_for(url: str) -> Engine:
    """An engine with the settings that the store relies on. Makes a SQLite file's folder."""
    made = parsed(url)
    if made.get_backend_name() == "sqlite":
        return _sqlite(made)
    try:
        address = made.set(drivername="postgresql+psycopg")
        engine = create_engine(address, **_ALIKE, pool_pre_ping=True, pool_size=8, max_overflow=8)
    except ModuleNotFoundError:
        raise StoreError("PostgreSQL needs psycopg; install it: pip install 'burrowbell[postgres]'") from None
    event.listen(engine, "handle_error", _without_row_values)
    event.listen(engine, "connect", lambda raw, _record: put_in_service(raw))
    return engine


def _without_row_values(context: Any) -> None:
    """Takes out of a server's complaint about rows all but what kind it is and which rule was broken.

    Its own words quote the rows ("Key (name)=(…) already exists"), and would stand in every traceback.
    That the server cannot be reached or has no room quotes none, and is told to the keeper; nor does a
    refusal of ours, made before anything went to the server.
    """
    told, complaint = context.sqlalchemy_exception, context.original_exception
    if (
        told is None
        or isinstance(told, OperationalError | InterfaceError)
        or isinstance(complaint, StoreError)
    ):
        return
    found = getattr(complaint, "diag", None)
    rule = getattr(found, "constraint_name", None) or getattr(found, "table_name", None) or "no rule named"
    plain = f"{getattr(complaint, 'sqlstate', None) or 'no state'} ({rule})"
    complaint.args = (plain,)
    told.args = (f"({type(complaint).__name__}) {plain}",)


def _sqlite(url: URL) -> Engine:
    file = sqlite_file(url)
    if file is not None:
        try:
            file.absolute().parent.mkdir(parents=True, exist_ok=True)
        except OSError as problem:
            raise StoreUnavailableError(
                f"The store's folder cannot be made: {problem.strerror}."
            ) from problem
    return create_engine(
        url.set(drivername="sqlite+whole"),
        connect_args={"check_same_thread": False, "timeout": BUSY_TIMEOUT_MS / 1000},
        poolclass=StaticPool if file is None else QueuePool,
        **_ALIKE,
    )
