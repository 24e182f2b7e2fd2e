"""An animal with a long history, and what an entry takes on the disk: both as the store grows tenfold."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from datetime import UTC, timedelta
from itertools import cycle, islice
from pathlib import Path

from sqlalchemy import text

from bot.conversation import Conversation
from bot.demo.shelf import crowd
from bot.demo.simulator import journal_of
from bot.terminal.talk import Talk
from bot.terms import Entry, KeeperSettings, Kind
from storage import Store
from storage.bulk import fill
from tests.bench.messages import NOW
from tests.bench.timing import Line, median_of, medians, own_seconds, shown
from tests.storage import postgres

_AT = NOW.astimezone(UTC)
_LONG = (300, 3_000)
_LIMIT_S = 0.05
_SIZES = (10_000, 100_000)


def lines() -> Iterator[Line]:
    """History of one animal with 300 and 3,000 entries; bytes for each entry in stores of two sizes."""
    for entries in _LONG:
        yield from _history(entries)
    with tempfile.TemporaryDirectory() as folder, postgres.server() as server:
        for entries in _SIZES:
            file = Path(folder) / f"{entries}.db"
            for url in (f"sqlite:///{file}", server.empty()):
                yield _size(url, file, entries)


def _history(entries: int) -> Iterator[Line]:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "long.db"
        store = Store.open(f"sqlite:///{file}")
        residents = crowd(20, seed=3)
        animal = next(resident.specimen for resident in residents if resident.specimen.name)
        kinds = cycle((Kind.FED, Kind.WATERED, Kind.REFUSED, Kind.CHECKED))
        journal = [
            Entry(kind=kind, specimens=(animal.tag,), day=_AT.date() - timedelta(days=entries - number))
            for number, kind in enumerate(islice(kinds, entries))
        ]
        with store.begin() as work:
            keeper = work.keepers.create("Bench", KeeperSettings(zone="Europe/London"), at=_AT)
            specimens = [resident.specimen for resident in residents]
            fill(work, keeper.shelf_id, keeper.id, specimens, journal, at=_AT, zone="Europe/London")
        talk = Talk(store, keeper.id, Conversation(), chat="bench", now=lambda: _AT)
        talk.say(f"history of {animal.name}")
        taken = medians(own_seconds(lambda: talk.say(f"history of {animal.name}")) for _ in range(15))

        def all_of_it() -> None:
            with store.look() as work:
                assert len(work.journal.entries(keeper.shelf_id, tags=[animal.tag])) == entries

        whole = median_of(7, all_of_it)
        store.close()
        floor = _raw(file, entries)
    yield Line(
        what=f"history of an animal with {entries:,} entries, asked in words, processor time",
        figure=shown(taken),
        limit=f"<= {_LIMIT_S * 1000:.0f} ms",
        kept=taken <= _LIMIT_S,
    )
    yield Line(
        what="  all its entries, as for a chart",
        figure=shown(whole),
        beside=f"raw sqlite3, the same rows {shown(floor)}",
        ratio=whole / floor,
    )


def _raw(file: Path, entries: int) -> float:
    database = sqlite3.connect(file)
    query = "SELECT * FROM entry WHERE specimen_id = (SELECT specimen_id FROM entry LIMIT 1) AND live = 1"
    try:
        assert len(database.execute(query).fetchall()) == entries
        return median_of(7, lambda: database.execute(query).fetchall())
    finally:
        database.close()


def _size(url: str, file: Path, entries: int) -> Line:
    store = Store.open(url)
    residents = crowd(200, seed=3)
    journal = list(islice(journal_of(residents, seed=3, end=_AT.date(), days=entries // 20), entries))
    with store.begin() as work:
        keeper = work.keepers.create("Bench", KeeperSettings(zone="Europe/London"), at=_AT)
        specimens = [resident.specimen for resident in residents]
        before = _bytes(work.connection)
        fill(work, keeper.shelf_id, keeper.id, specimens, journal, at=_AT, zone="Europe/London")
        after = _bytes(work.connection)
    store.close()
    name = "PostgreSQL" if url.startswith("postgresql") else "SQLite"
    return Line(
        what=f"store of {len(journal):,} entries, {name}",
        figure=f"{(after - before) / 1e6:.1f} MB",
        beside=f"{(after - before) / len(journal):.0f} bytes for each, with its indexes",
    )


def _bytes(connection) -> int:
    if connection.dialect.name == "sqlite":
        return connection.execute(text("PRAGMA page_count")).scalar() * 4096
    return connection.execute(
        text("SELECT sum(pg_total_relation_size(oid))::bigint FROM pg_class WHERE relkind = 'r'")
    ).scalar()
