"""Stores for replaying faults: SQLite, and PostgreSQL for what touches the store or the clock."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from storage import Store
from tests.commands.conftest import _demo_file, burrowbell, demo_db  # noqa: F401  the command line, too
from tests.faults.house import House
from tests.storage import postgres


@pytest.fixture(scope="session")
def server() -> Iterator[postgres.Server]:
    with postgres.server() as running:
        yield running


@pytest.fixture
def home():
    """Makes a keeper's house in a store in memory: ``home(now="2026-03-04T09:00")``."""
    opened = []

    def make(**chosen) -> House:
        store = Store.open("sqlite://")
        opened.append(store)
        return House(store, **chosen)

    yield make
    for store in opened:
        store.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def any_home(request, tmp_path):
    """The same on a SQLite file and on PostgreSQL, in turn."""
    if request.param == "postgresql":
        url = request.getfixturevalue("server").cleared()
    else:
        url = f"sqlite:///{tmp_path / 'store.db'}"
    opened = []

    def make(**chosen) -> House:
        store = Store.open(url)
        opened.append(store)
        return House(store, **chosen)

    yield make
    for store in opened:
        store.close()
