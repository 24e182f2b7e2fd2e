"""Stores to test with: one of each kind that the program supports."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from storage import Store
from tests.storage import postgres
from tests.storage.given import Shelf, shelf_in, specimen

KINDS_OF_STORE = ("memory", "file", "postgresql")


@pytest.fixture(scope="session")
def server() -> Iterator[postgres.Server]:
    """A PostgreSQL server for this run of tests."""
    with postgres.server() as running:
        yield running


@pytest.fixture(params=KINDS_OF_STORE)
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The URL of an empty store, of each kind in turn."""
    if request.param == "postgresql":
        return request.getfixturevalue("server").cleared()
    return {"memory": "sqlite://", "file": f"sqlite:///{tmp_path / 'store.db'}"}[request.param]


@pytest.fixture
def file_url(tmp_path: Path) -> str:
    """The URL of an empty store in a file."""
    return f"sqlite:///{tmp_path / 'store.db'}"


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    """An empty store."""
    opened = Store.open(url)
    yield opened
    opened.close()


@pytest.fixture
def shelf(store: Store) -> Shelf:
    """An invented keeper's shelf with three specimens."""
    made = shelf_in(store)
    made.add(
        specimen("A1", name="Anvil", place="Shelf A"),
        specimen("A2", name="Ångström", place="Shelf A", aka=("Mole",)),
        specimen("B1", lot_size=10, place="Shelf B"),
    )
    return made


@pytest.fixture
def server_url(server: postgres.Server) -> str:
    """The URL of a store on PostgreSQL, migrated and without rows."""
    return server.cleared()
