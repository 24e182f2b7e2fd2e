"""Rights that one process has at a time, and the bell between processes, on a real PostgreSQL."""

from __future__ import annotations

import asyncio
from itertools import count

from sqlalchemy import text

from storage import Store
from storage.bell import INBOX, OUTBOX, rings
from storage.rights import SoleRight
from tests.storage.given import NOW


def test_one_of_two_processes_has_a_right_and_the_other_gets_it_when_it_is_let_go(server_url):
    first, second = Store.open(server_url), Store.open(server_url)
    mine, other = SoleRight(first, "sending"), SoleRight(second, "sending")
    assert [mine.held(), other.held(), mine.held(), other.held()] == [True, False, True, False]
    another = SoleRight(second, "polling")
    assert another.held()
    mine.release()
    assert [other.held(), mine.held()] == [True, False]
    other.release()
    another.release()
    first.close()
    second.close()


def test_the_right_of_a_process_that_lost_its_connection_passes_to_the_next(server_url):
    first, second = Store.open(server_url), Store.open(server_url)
    mine, other = SoleRight(first, "sending"), SoleRight(second, "sending")
    assert mine.held()
    assert not other.held()
    with second.writer() as connection:
        connection.execute(
            text(
                "SELECT pg_terminate_backend(pid, 5000) FROM pg_locks WHERE locktype = 'advisory'"
                " AND database = (SELECT oid FROM pg_database WHERE datname = current_database())"
            )
        )
    assert other.held()
    assert not mine.held()
    other.release()
    first.close()
    second.close()


def test_one_process_alone_has_every_right(file_url):
    store = Store.open(file_url)
    right = SoleRight(store, "sending")
    assert right.held()
    right.release()
    assert right.held()
    store.close()


async def test_what_another_process_puts_down_rings_at_once(server_url):
    store = Store.open(server_url)
    bells = rings(server_url)
    first = asyncio.ensure_future(anext(bells))
    numbers = count(1)
    async with asyncio.timeout(10):
        while not first.done():  # a ring before anyone listens is heard by nobody
            _put_down(store, next(numbers))
            await asyncio.sleep(0.05)
        assert await first == INBOX
        assert await anext(bells) == OUTBOX
    await bells.aclose()
    store.close()


def _put_down(store, number):
    with store.begin() as work:
        work.inbox.put("telegram", number, chat="7", payload={}, at=NOW)
        work.outbox.put(keeper_id=None, chat="7", method="say", payload={}, at=NOW)


async def test_a_file_rings_nobody(file_url):
    assert [channel async for channel in rings(file_url)] == []
