"""Many keepers on one PostgreSQL: how message, tick and store grow with their number. ``make bench-large``.

One keeper's shelf is made by the program itself, then repeated by the server under numbers that
interleave keepers, as a store does into which all of them write day by day. Scale 1 is 100,000 keepers with
2 million animals and 50 million entries; ``--scale`` is the largest of the three scales that are measured,
each ten times the one before. Trust how the figures grow, not the times of a busy machine.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, timedelta
from itertools import count, islice

import click
from sqlalchemy import Connection, text

from bot.clock import Clock
from bot.conversation import Conversation
from bot.demo.shelf import crowd
from bot.demo.simulator import journal_of
from bot.telegram.admit import Door
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from bot.terms import KeeperSettings
from storage import Store
from storage.bulk import fill
from storage.tables import METADATA
from tests.bench.many import ANIMALS, FIRST_CHAT, meal, update
from tests.bench.messages import NOW
from tests.bench.timing import Line, medians, seconds, shown, table
from tests.storage import postgres

KEEPERS, ENTRIES_EACH = 100_000, 500
_AT = NOW.astimezone(UTC).replace(hour=7, minute=0)
_MESSAGES, _WARM_UP = 200, 20
_ANSWER_S, _ANSWER_P99_S, _IDLE_S = 0.060, 0.250, 0.050
_DUE = (10, 100)
#: So many that some are left to write and some to have rounds while others write.
_FEWEST = 200
_NOBODY = _AT + timedelta(days=2)


@click.command()
@click.option("--scale", default=0.1, show_default=True, help="The largest scale, as a part of the whole.")
@click.option("--only", is_flag=True, help="That scale alone, without the two smaller ones.")
def large(scale: float, only: bool) -> None:
    """Generate, measure, and print the table."""
    found: list[Line] = []
    for part in (scale,) if only else (scale / 100, scale / 10, scale):
        with postgres.server(durable=True) as server:
            url = server.empty()
            found += _lines(url, server.as_superuser(url), max(_FEWEST, round(KEEPERS * part)))
        load = os.getloadavg()[0]
        click.echo(f"{table(found)}\n(load {load:.1f} on {os.cpu_count()} cores)", err=True)
    click.echo(table(found))
    sys.exit(any(line.kept is False for line in found))


def _lines(url: str, above_the_fence: str, keepers: int) -> Iterator[Line]:
    store = Store.open(url)
    _make_one(store)
    full = Store.open(above_the_fence)
    taken = seconds(lambda: _repeat_it(full, keepers))
    with store.look() as work:
        size, entries = work.connection.execute(
            text("SELECT pg_database_size(current_database()), (SELECT count(*) FROM entry)")
        ).one()
    yield Line(
        what=f"{keepers:,} keepers, {keepers * ANIMALS:,} animals, {entries:,} entries",
        figure=f"{size / 1e9:.2f} GB",
        beside=f"{size / entries:.0f} bytes for each entry, all told; generated in {taken:.0f} s",
    )
    clock = Clock(store, Conversation(), Post())
    clock.tick(_AT)  # the first one after a start looks at everybody
    time.sleep(2)
    with full.writer() as connection:
        connection.execute(text("SELECT pg_stat_reset()"))
    full.close()
    idle = statistics.median(seconds(lambda: clock.tick(_AT)) for _ in range(30))
    yield Line(
        what="  tick, nobody due",
        figure=shown(idle),
        limit=f"<= {_IDLE_S * 1000:.0f} ms",
        kept=idle <= _IDLE_S,
    )
    for due in _DUE:
        _make_due(store, 1 if due == _DUE[0] else 1 + _DUE[0], due)
        own = time.process_time()
        took = seconds(lambda: clock.tick(_AT))
        own = time.process_time() - own
        each = f"{shown(took / due)} for each, {shown(own / due)} of it this process's own"
        yield Line(what=f"  tick, {due} due", figure=shown(took), beside=each)
    yield from _answers(store, url, keepers)
    yield _read_through(store, keepers)
    store.close()


# --- generating


def _repeat_it(store: Store, keepers: int) -> None:
    """Repeats all rows of the one keeper that is there under other numbers; takes a superuser's rights."""
    with store.writer() as connection:
        connection.execute(text("SET LOCAL session_replication_role = replica"))  # no check of each reference
        connection.execute(text("SET LOCAL maintenance_work_mem = '512MB'"))
        with _without_indexes(connection):
            for one in METADATA.sorted_tables:
                if one.name != "bookmark":
                    _repeat(connection, one, keepers)
    with store.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.execute(text("VACUUM ANALYZE"))


def _make_one(store: Store) -> None:
    """One keeper with the animals, and as many changes as entries."""
    residents = crowd(ANIMALS, seed=3)
    journal = list(journal_of(residents, seed=3, end=_AT.date() - timedelta(days=1), days=400))
    with store.begin() as work:
        keeper = work.keepers.create(
            "Keeper (invented)", KeeperSettings(zone="UTC"), at=_AT - timedelta(days=400)
        )
        work.keepers.link(keeper.id, "telegram", "0")
        work.keepers.set_next_round(keeper.id, _NOBODY)
        for entry in [()], [journal[-ENTRIES_EACH:]]:
            specimens = [] if entry[0] else [resident.specimen for resident in residents]
            fill(work, keeper.shelf_id, keeper.id, specimens, list(*entry), at=_AT, zone="UTC")
        first, last = work.connection.execute(text("SELECT max(change_id), max(id) FROM entry")).one()
        own = "SELECT :first + id, shelf_id, :keeper, :at FROM entry"
        into = "INSERT INTO change (id, shelf_id, keeper_id, at)"
        work.connection.execute(
            text(f"{into} {own}"), {"first": first, "keeper": keeper.id, "at": _AT - timedelta(days=1)}
        )
        work.connection.execute(text("UPDATE entry SET change_id = :first + id"), {"first": first})
        assert last >= ENTRIES_EACH


@contextmanager
def _without_indexes(connection: Connection) -> Iterator[None]:
    """Indexes that are no constraint's are made anew at the end, which is faster than row by row."""
    found = connection.execute(
        text(
            "SELECT indexname, indexdef FROM pg_indexes WHERE schemaname = 'public'"
            " AND indexname NOT IN (SELECT conname FROM pg_constraint)"
        )
    ).all()
    for one in found:
        connection.execute(text(f'DROP INDEX "{one.indexname}"'))
    yield
    for one in found:
        connection.execute(text(one.indexdef))


def _repeat(connection: Connection, one, keepers: int) -> None:
    """Row number n of the one keeper becomes the rows (n - 1) * keepers + 1 and following, one for each."""
    rows = connection.execute(text(f'SELECT count(*) FROM "{one.name}"')).scalar()
    if not rows:
        return
    connection.execute(text(f'CREATE TEMP TABLE one ON COMMIT DROP AS SELECT * FROM "{one.name}"'))
    connection.execute(text(f'DELETE FROM "{one.name}"'))
    numbered = {column.name for column in one.columns if column.foreign_keys or column.name == "id"}
    columns = [column.name for column in one.columns]
    values = [_repeated(one.name, name, keepers, numbered=name in numbered) for name in columns]
    order = ", ".join(f'one."{column.name}"' for column in one.primary_key)
    named = ", ".join(f'"{name}"' for name in columns)
    for number in range(rows):  # row by row, so that keepers lie beside each other and nothing is sorted
        picked = f"(SELECT * FROM one ORDER BY {order} LIMIT 1 OFFSET {number})"
        connection.execute(
            text(
                f'INSERT INTO "{one.name}" ({named}) SELECT {", ".join(values)}'
                f" FROM {picked} one, generate_series(0, {keepers - 1}) AS c ORDER BY c"
            )
        )
    if "id" in columns:
        connection.execute(
            text(f"SELECT setval(pg_get_serial_sequence('{one.name}', 'id'), {rows * keepers + 1})")
        )
    connection.execute(text("DROP TABLE one"))


def _repeated(table_name: str, column: str, keepers: int, *, numbered: bool) -> str:
    if (table_name, column) == ("contact", "address"):
        return f"({FIRST_CHAT} + c)::text"
    return f'(one."{column}" - 1) * {keepers} + c + 1' if numbered else f'one."{column}"'


# --- measuring


def _read_through(store: Store, keepers: int) -> Line:
    """Tables that grow with the keepers must never be read through: that is what a missing index shows as."""
    time.sleep(2)  # the server counts a little behind
    with store.look() as work:
        counted = work.connection.execute(
            text(
                "SELECT relname, seq_tup_read FROM pg_stat_user_tables"
                " WHERE seq_scan > 0 AND seq_tup_read / seq_scan >= :many ORDER BY seq_tup_read DESC"
            ),
            {"many": keepers // 2},
        ).all()
    return Line(
        what="  tables read through without an index",
        figure=f"{len(counted)}",
        beside=", ".join(f"{name} ({rows:,} rows)" for name, rows in counted),
        limit="0",
        kept=not counted,
    )


def _make_due(store: Store, first: int, many: int) -> None:
    """Makes the rounds of so many keepers fall due, by their numbers."""
    with store.writer() as connection:
        connection.execute(
            text("UPDATE keeper SET next_round_at = :at WHERE id BETWEEN :first AND :last"),
            {"at": _AT - timedelta(minutes=1), "first": first, "last": first + many - 1},
        )


def _answers(store: Store, url: str, keepers: int) -> Iterator[Line]:
    """Messages of keepers all over the store, one after the other, while another process makes rounds."""
    writers = _MESSAGES // 4
    _make_due(store, 1 + sum(_DUE), max(20, min(keepers // 3, 3_000) - sum(_DUE)))
    step = max(1, writers)
    chats = [FIRST_CHAT + keepers - 1 - number % step for number in range(_MESSAGES + _WARM_UP)]
    worker = Worker(
        store,
        me=Me(id=1, username="bench_bot"),
        door=Door(()),
        talks=Conversation(),
        plans=Clock(store, Conversation(), Post()),
        now=lambda: _AT,
    )
    numbers, times, own = count(1), [], []
    with _rounds_going_out(url) as rounds:
        for chat in chats:
            number, before = next(numbers), time.process_time()
            times.append(seconds(lambda n=number, c=chat: _answered(store, worker, n, c)))
            own.append(time.process_time() - before)
        still = rounds.poll() is None
    times = times[_WARM_UP:]
    slowest = statistics.quantiles(times, n=100)[98]
    with store.look() as work:
        sent = work.connection.execute(text("SELECT max(id) FROM occurrence")).scalar() - sum(_DUE)
    while_what = f"{shown(medians(own[_WARM_UP:]))} this process's own; {sent} rounds meanwhile" + (
        "" if still else ", which were all there were"
    )
    yield Line(
        what="  message to committed reply while rounds go out",
        figure=shown(medians(times)),
        beside=while_what,
        limit=f"<= {_ANSWER_S * 1000:.0f} ms",
        kept=medians(times) <= _ANSWER_S,
    )
    yield Line(
        what="  99 of 100 within",
        figure=shown(slowest),
        limit=f"<= {_ANSWER_P99_S * 1000:.0f} ms",
        kept=slowest <= _ANSWER_P99_S,
    )


def _answered(store: Store, worker: Worker, number: int, chat: int) -> None:
    with store.begin() as work:
        work.inbox.put(
            "telegram", number, chat=str(chat), payload=update(number, chat, meal(number), _AT), at=_AT
        )
    (row,) = islice(worker.waiting(), 1)
    assert worker.handle(row)


@contextmanager
def _rounds_going_out(url: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "tests.bench.large_rounds", url, _AT.isoformat()]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    try:
        assert process.stdout.readline() == "ready\n"
        time.sleep(0.2)
        yield process
    finally:
        process.kill()
        process.wait()


if __name__ == "__main__":
    large()
