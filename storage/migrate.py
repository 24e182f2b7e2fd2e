"""Bringing a store to the tables of this version, by the migrations and by nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import Connection, Engine, inspect, text
from sqlalchemy.engine import URL

from storage.engine import sqlite_file, will_write
from storage.errors import StoreError, StoreTooNewError
from storage.migrations import HEAD

if TYPE_CHECKING:
    from alembic.config import Config

_VERSION_TABLE: Final = "alembic_version"
#: Where the steps lie: modules of this package, so that an installed wheel has them.
_STEPS: Final = ("storage.migrations:versions",)
#: Any number, as long as it stays: migrating processes of one PostgreSQL wait for each other on it.
_MIGRATION_LOCK: Final = 7_203_114


def revision_of(connection: Connection) -> str | None:
    """The revision of the store's tables; ``None`` for an empty store.

    Raises :class:`StoreError` where there are tables, but not a store's.
    """
    tables = inspect(connection).get_table_names()
    if _VERSION_TABLE not in tables:
        if tables:
            raise StoreError("That database holds something else than a store; name another.")
        return None
    return connection.execute(text(f"SELECT version_num FROM {_VERSION_TABLE}")).scalar()


def bring_up_to_date(engine: Engine, url: URL) -> None:
    """Migrates an empty or older store; a copy of an older file with data is laid beside it first.

    Raises :class:`StoreTooNewError` where the store was written by a later version.
    """
    with engine.connect() as connection:
        will_write(connection, writes=False)
        found = revision_of(connection)
    if found == HEAD:
        return
    if found is not None:
        refuse_unknown(found)
        _copy_beside(engine, url, found)
    upgrade(engine)


def upgrade(engine: Engine, to: str = "head") -> None:
    """Runs the migrations up to a revision, as one transaction."""
    from alembic import command  # noqa: PLC0415  half the time of a start, needed on few of them

    with engine.connect() as connection:
        will_write(connection, writes=True)
        _loosen_references(connection)
        try:
            with connection.begin():
                if connection.dialect.name == "postgresql":
                    connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": _MIGRATION_LOCK})
                command.upgrade(config_for(connection), to)
                _refuse_broken_references(connection)
        finally:
            _tighten_references(connection)


def config_for(connection: Connection | None = None) -> Config:
    """What Alembic is told: where the steps lie, and on which connection to run them."""
    from alembic.config import Config  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", "storage:migrations")
    config.set_main_option("path_separator", "newline")
    config.set_main_option("version_locations", "\n".join(_STEPS))
    config.attributes["connection"] = connection
    return config


def refuse_unknown(revision: str, what: str = "The store") -> None:
    """Raises :class:`StoreTooNewError`, which names ``what`` was written, for a later version's revision."""
    from alembic.script import ScriptDirectory  # noqa: PLC0415
    from alembic.util import CommandError  # noqa: PLC0415

    try:
        ScriptDirectory.from_config(config_for()).get_revision(revision)
    except CommandError:
        raise StoreTooNewError(
            f"{what} was written by a newer version of this program; install that version to open it."
        ) from None


def _copy_beside(engine: Engine, url: URL, revision: str) -> None:
    from storage.backup import copy_file  # noqa: PLC0415  it needs the store, which needs this

    file = sqlite_file(url)
    if file is not None:
        copy_file(engine, file.with_name(f"{file.name}.before-{HEAD}-was-{revision}"))


def _loosen_references(connection: Connection) -> None:
    """SQLite alters a table by copying it, which must not look like deleting what others refer to."""
    if connection.dialect.name == "sqlite":
        _driver(connection).execute("PRAGMA foreign_keys = OFF")


def _tighten_references(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        _driver(connection).execute("PRAGMA foreign_keys = ON")


def _refuse_broken_references(connection: Connection) -> None:
    if connection.dialect.name == "sqlite" and connection.execute(text("PRAGMA foreign_key_check")).first():
        raise StoreError("The migration would have lost rows that others refer to; nothing was changed.")


def _driver(connection: Connection) -> Any:
    return connection.connection.dbapi_connection
