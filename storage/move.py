"""Moving a whole store to another database, proved row by row: SQLite to PostgreSQL, or back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest
from typing import Any, Final

from sqlalchemy import Connection, Table, delete, func, insert, select, text

from storage.dialect import AnyRow
from storage.errors import CopyFailedError, StoreNotEmptyError
from storage.store import Store
from storage.tables import METADATA, bookmark

#: How many rows are held in memory at a time.
_SLICE: Final = 2_000


def move(source_url: str, target_url: str) -> Mapping[str, int]:
    """Copies every row of a store to an empty one, under the same numbers; the source stays as it is.

    The source is read as of one moment, the target is written in one transaction, then every row is
    read back and compared before that transaction is committed. Both are brought to the current tables
    first. Gives the number of rows of each table. Raises :class:`~storage.errors.StoreNotEmptyError`
    where the target holds something, :class:`~storage.errors.CopyFailedError` where a row differs, and
    other :class:`~storage.errors.StoreError` where a store cannot be opened.
    """
    source, target = Store.open(source_url), Store.open(target_url)
    try:
        return copy_rows(source, target)
    finally:
        source.close()
        target.close()


def copy_rows(source: Store, target: Store) -> Mapping[str, int]:
    """Copies every row of an open store to an open, empty one; see :func:`move`."""
    with source.reader() as reading, target.writer() as writing:
        _refuse_unless_empty(writing)
        counts = {}
        for table in METADATA.sorted_tables:
            counts[table.name] = _copy(table, reading, writing)
        for table in METADATA.sorted_tables:
            _compare(table, reading, writing)
            _continue_numbers(table, writing)
    return counts


def _refuse_unless_empty(target: Connection) -> None:
    """A store that was only just made has nothing but a bookmark, which gives way to the source's."""
    target.execute(delete(bookmark))
    for table in METADATA.sorted_tables:
        if target.execute(select(*table.primary_key).limit(1)).first() is not None:
            raise StoreNotEmptyError("The store to move to is not empty; name a new one.")


def _slices(table: Table, connection: Connection) -> Iterator[Sequence[AnyRow]]:
    """A table's rows in the order of its key, some at a time."""
    query = select(table).order_by(*table.primary_key).execution_options(yield_per=_SLICE)
    yield from connection.execute(query).partitions()


def _copy(table: Table, source: Connection, target: Connection) -> int:
    copied = 0
    for rows in _slices(table, source):
        target.execute(insert(table), [row._asdict() for row in rows])
        copied += len(rows)
    return copied


def _compare(table: Table, source: Connection, target: Connection) -> None:
    """Raises :class:`CopyFailedError` at the first row that is not the same in both."""
    for ours, theirs in zip_longest(_slices(table, source), _slices(table, target), fillvalue=()):
        if [tuple(row) for row in ours] != [tuple(row) for row in theirs]:
            raise CopyFailedError(f"The rows of {table.name} came over differently; nothing was kept.")


def _continue_numbers(table: Table, target: Connection) -> None:
    """Lets the next row's number follow the last one's; SQLite does so by itself."""
    column: Any = table.autoincrement_column
    if target.dialect.name != "postgresql" or column is None:
        return
    last = target.execute(select(func.max(column))).scalar()
    if last is not None:
        sequence = text("SELECT setval(pg_get_serial_sequence(:table, :column), :last)")
        target.execute(sequence, {"table": f'"{table.name}"', "column": column.name, "last": last})
