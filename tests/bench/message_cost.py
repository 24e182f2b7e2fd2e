"""What it costs to answer a message: text in, entry committed, reply out.

The floor is raw ``sqlite3`` doing the same writes: every row that the bot wrote is written again, with
the same statements, values and durability, into a copy of the store as it was before.
"""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, timedelta
from pathlib import Path
from typing import Any

from sqlalchemy import event

from bot.conversation import Conversation
from bot.demo.fill import put_up
from bot.demo.shelf import DemoShelf, crowd
from bot.terminal.talk import Talk
from bot.terms import KeeperSettings
from storage import Store
from tests.bench.messages import NOW
from tests.bench.timing import Line, medians, shown

_LIMIT = 12.0
_MESSAGES = 120
_WARM_UP = 20


@dataclass
class Writes:
    """The write statements of each transaction, as they went to the driver."""

    transactions: list[list[tuple[str, Any]]] = field(default_factory=list)

    def watch(self, engine: Any) -> None:
        """Listens to what an engine sends."""
        event.listen(engine, "begin", lambda _connection: self.transactions.append([]))
        event.listen(engine, "before_cursor_execute", self._note)

    def _note(self, _connection, _cursor, statement, parameters, _context, many):
        if statement.lstrip()[:6].upper() in {"INSERT", "UPDATE", "DELETE"} and self.transactions:
            rows = parameters if many else [parameters]
            self.transactions[-1] += [(statement, row) for row in rows]


def lines() -> Iterator[Line]:
    """A message on a shelf of 500 animals with a year of entries, beside the floor and the commit."""
    with tempfile.TemporaryDirectory() as folder:
        path, copy = Path(folder) / "shelf.db", Path(folder) / "copy.db"
        store = Store.open(f"sqlite:///{path}")
        residents = crowd(500, seed=7)
        shelf = DemoShelf(keeper="Bench", settings=KeeperSettings(), residents=residents, seed=7)
        at = NOW.astimezone(UTC)
        keeper = put_up(store, shelf, now=at, zone="Europe/London", contact=("terminal", "bench"))
        store.close()
        shutil.copy(path, copy)
        store = Store.open(f"sqlite:///{path}")
        writes = Writes()
        ticks = (at + timedelta(seconds=step) for step in range(10_000))
        talk = Talk(store, keeper.id, Conversation(), chat="bench", now=lambda: next(ticks))
        texts = _texts([resident.specimen for resident in residents])
        for text in texts[:_WARM_UP]:
            talk.say(text)
        _copy_now(store, copy)
        writes.watch(store.engine)
        times = []
        for text in texts[_WARM_UP:]:
            start = time.perf_counter()
            replies = talk.say(text)
            times.append(time.perf_counter() - start)
            assert any(reply.buttons for reply in replies), (text, replies)
        store.close()
        floors, commits, rows = _replay(copy, writes)
        ratio = medians(times) / medians(floors)
        yield Line(
            what="message to committed entry and reply",
            figure=shown(medians(times)),
            beside=f"raw sqlite3, the same {rows:.0f} rows {shown(medians(floors))}",
            ratio=ratio,
            limit=f"<= {_LIMIT:.0f}",
            kept=ratio <= _LIMIT,
        )
        yield Line(what="  the commit alone, in the floor", figure=shown(medians(commits)))
        yield Line(what="  slowest of 20", figure=shown(sorted(times)[-max(1, len(times) // 20)]))


def _texts(specimens) -> list[str]:
    """One meal for each of many animals, all of which may be fed on the day."""
    wanted = _MESSAGES + _WARM_UP
    return [f"{specimen.name} took two crickets yesterday" for specimen in specimens[:wanted]]


def _copy_now(store: Store, copy: Path) -> None:
    with store.engine.connect() as connection, sqlite3.connect(copy) as target:
        driver = connection.connection.dbapi_connection
        driver.rollback()
        driver.backup(target)


def _replay(copy: Path, writes: Writes) -> tuple[list[float], list[float], float]:
    """Times of each transaction and of its commit alone, and how many rows one has in the middle."""
    database = sqlite3.connect(copy, isolation_level=None)
    for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON", "temp_store = MEMORY"):
        database.execute(f"PRAGMA {pragma}")
    whole, commits, rows = [], [], []
    for transaction in filter(None, writes.transactions):
        start = time.perf_counter()
        database.execute("BEGIN IMMEDIATE")
        for statement, values in transaction:
            database.execute(statement, values).fetchall()
        before_commit = time.perf_counter()
        database.execute("COMMIT")
        end = time.perf_counter()
        whole.append(end - start)
        commits.append(end - before_commit)
        rows.append(len(transaction))
    database.close()
    return whole, commits, medians(rows)
