"""Streets of keepers: on a SQLite file, and on PostgreSQL."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from storage import Store
from tests.apart.street import Street
from tests.storage import postgres


@pytest.fixture(scope="session")
def server() -> Iterator[postgres.Server]:
    with postgres.server() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path) -> str:
    """The URL of an empty store, of each kind in turn."""
    if request.param == "postgresql":
        return request.getfixturevalue("server").cleared()
    return f"sqlite:///{tmp_path / 'store.db'}"


@pytest.fixture
def street(url, monkeypatch, tmp_path):
    """Nobody lives there yet; files on their way lie in the test's own folder."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    store = Store.open(url)
    yield Street(store)
    store.close()
