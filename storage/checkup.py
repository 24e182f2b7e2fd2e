"""Whether a store is whole: its pages, its references, and its states against its journal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sqlalchemy import Connection, select, text

from storage import tables as t
from storage.errors import StoreUnavailableError
from storage.store import Store


def faults_of(store: Store) -> tuple[str, ...]:
    """What is wrong with a store, one line each; empty where it is whole. Changes nothing.

    Reads everything: for a check now and then, not for every start.
    """
    try:
        return tuple(_faults_of_file(store)) or tuple(_faults_of_states(store))
    except StoreUnavailableError as problem:
        return (str(problem),)


def _faults_of_states(store: Store) -> Iterator[str]:
    with store.look() as work:
        shelves = work.connection.execute(select(t.shelf.c.id).order_by(t.shelf.c.id)).scalars().all()
    for shelf_id in shelves:
        with store.look() as work:  # a look keeps nothing of what is worked out
            kept = _worked_out(work.connection, shelf_id)
            work.journal.rebuild(shelf_id)
            if _worked_out(work.connection, shelf_id) != kept:
                yield f"The states of shelf {shelf_id} are not what its journal says; rebuild them."


def _faults_of_file(store: Store) -> Iterator[str]:
    with store.look() as work:
        if work.connection.dialect.name != "sqlite":
            return
        if work.connection.execute(text("PRAGMA integrity_check")).scalar() != "ok":
            yield "The store is damaged; restore the last backup."
        elif work.connection.execute(text("PRAGMA foreign_key_check")).first() is not None:
            yield "The store has rows that refer to nothing; restore the last backup."


def _worked_out(connection: Connection, shelf_id: int) -> list[Any]:
    """Everything of a shelf that is worked out from its journal."""
    state, entry, specimen = t.state.c, t.entry.c, t.specimen
    queries = (
        select(state.specimen_id, state.facts, state.last_day, state.last_time)
        .where(state.shelf_id == shelf_id)
        .order_by(state.specimen_id),
        select(entry.id, entry.live).where(entry.shelf_id == shelf_id).order_by(entry.id),
        select(specimen).where(specimen.c.shelf_id == shelf_id).order_by(specimen.c.id),
    )
    return [connection.execute(query).all() for query in queries]
