"""The one place where SQL is worded differently for each database."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from sqlalchemy import Column, Connection, Executable, FromClause, Insert, Row, Select, Table
from sqlalchemy.dialects import postgresql, sqlite

from storage.engine import writes

if TYPE_CHECKING:
    #: A row of any columns.
    AnyRow: TypeAlias = Row[*tuple[Any, ...]]
else:
    AnyRow = Row

_INSERTS: Final[dict[str, Any]] = {"sqlite": sqlite.insert, "postgresql": postgresql.insert}


def new_row(connection: Connection, statement: Insert, values: dict[str, Any]) -> int:
    """Inserts one row; gives its number."""
    key = connection.execute(statement, values).inserted_primary_key
    assert key is not None
    return int(key[0])


def hold_row(connection: Connection, statement: Select[Any], values: dict[str, Any]) -> None:
    """Makes other writers of a row wait, where writers do not take turns anyway as in SQLite."""
    if connection.dialect.name != "sqlite":
        connection.execute(statement, values)


@contextmanager
def overwrites_what_it_deletes(connection: Connection) -> Iterator[None]:
    """SQLite would leave deleted words in the file's free space; within the block it writes zeros over them.

    PostgreSQL clears them away by vacuuming.
    """
    if connection.dialect.name != "sqlite":
        yield
        return
    connection.exec_driver_sql("PRAGMA secure_delete = ON")
    try:
        yield
    finally:
        connection.exec_driver_sql("PRAGMA secure_delete = OFF")


class Claim:
    """A query for what waits to be done: within a write, its rows are locked for this worker alone.

    Rows that another worker has locked are left out and not waited for. Where writers take turns, or
    nothing is to be written, it is the plain query.
    """

    def __init__(self, query: Select[Any], of: FromClause) -> None:
        self._plain = query
        self._locking = query.with_for_update(skip_locked=True, of=of)

    def __call__(self, connection: Connection, values: dict[str, Any]) -> Sequence[AnyRow]:
        """Its rows."""
        plain = connection.dialect.name == "sqlite" or not writes(connection)
        return connection.execute(self._plain if plain else self._locking, values).all()


class InsertUnlessThere:
    """An insert that leaves a row alone that is there already, by any unique key.

    Calling it gives the new row's ``returning`` column, or ``None`` where the row was there.
    """

    def __init__(self, table: Table, returning: Column[Any]) -> None:
        self._statements: Final[dict[str, Executable]] = {
            name: insert(table).on_conflict_do_nothing().returning(returning)
            for name, insert in _INSERTS.items()
        }

    def __call__(self, connection: Connection, values: dict[str, Any]) -> Any:
        """Runs it with one row's values."""
        return connection.execute(self._statements[connection.dialect.name], values).scalar()


class Upsert:
    """An insert that overwrites ``columns`` of the row with the same primary key."""

    def __init__(self, table: Table, columns: Sequence[str]) -> None:
        keys = [column.name for column in table.primary_key]
        self._statements: Final[dict[str, Executable]] = {}
        for name, insert in _INSERTS.items():
            statement = insert(table)
            self._statements[name] = statement.on_conflict_do_update(
                index_elements=keys, set_={column: statement.excluded[column] for column in columns}
            )

    def __call__(self, connection: Connection, values: dict[str, Any]) -> None:
        """Runs it with one row's values."""
        connection.execute(self._statements[connection.dialect.name], values)
