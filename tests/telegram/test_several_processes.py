"""Several processes of ``serve`` on one PostgreSQL: one polls, one sends, and any of them may be killed."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime

import pytest

from bot.telegram.admit import Door
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from storage import Store
from tests.storage import postgres
from tests.telegram.fake_talks import FakeTalks
from tests.telegram.serving import Serving

NOW = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
WRITERS, MESSAGES = (7, 8, 9), 8


@pytest.fixture(scope="module")
def server():
    with postgres.server() as running:
        yield running


@pytest.fixture
async def pair(api, server, tmp_path):
    made, url = [], server.empty()
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        process = Serving(api, tmp_path / name)
        process.url = url
        made.append(process)
    yield made
    for process in made:
        if process.process and process.process.returncode is None:
            await process.kill()


def everyone_writes(api, start, stop):
    for number in range(start, stop):
        for user in WRITERS:
            api.says(f"fed Ink {number}", user=user)


def answered(api, stop):
    return all(
        {f"stored fed Ink {number}" for number in range(stop)} <= set(api.texts(user)) for user in WRITERS
    )


def in_order(texts):
    """The first time each text was seen; one may come twice where a process was killed."""
    return list(dict.fromkeys(text for text in texts if text.startswith("stored")))


async def test_whichever_process_is_killed_nothing_is_lost_nothing_stored_twice_and_chats_stay_in_order(
    api, pair
):
    one, two = pair
    await one.start()
    await api.until(lambda: api.count("getUpdates") > 0)
    await two.start()
    everyone_writes(api, 0, MESSAGES)
    await api.until(lambda: api.count("sendMessage") > len(WRITERS))
    await one.kill()
    everyone_writes(api, MESSAGES, 2 * MESSAGES)
    await api.until(lambda: answered(api, 2 * MESSAGES))
    await one.start()
    await asyncio.sleep(0.5)
    await two.kill()
    everyone_writes(api, 2 * MESSAGES, 3 * MESSAGES)
    await api.until(lambda: answered(api, 3 * MESSAGES))
    assert await one.stop() == 0
    assert sorted(one.notes()) == sorted(f"fed Ink {n}" for n in range(3 * MESSAGES) for _ in WRITERS)
    for user in WRITERS:
        assert in_order(api.texts(user)) == [f"stored fed Ink {number}" for number in range(3 * MESSAGES)]
    assert api.refused == []


async def test_a_process_that_only_works_answers_what_another_takes_in(api, pair):
    taker, worker = pair
    await worker.start(BURROWBELL_RECEIVES="nothing")
    await api.until(lambda: api.count("setMyCommands") == 1)
    assert api.count("getUpdates") == 0
    await taker.start()
    api.says("fed Ink")
    await api.until(lambda: "stored fed Ink" in api.texts())
    assert [await worker.stop(), await taker.stop()] == [0, 0]
    assert taker.notes() == ["fed Ink"]


def test_workers_that_share_a_store_begin_at_different_chats_and_leave_none_out(server):
    store = Store.open(server.empty())
    with store.begin() as work:
        for chat in range(40):
            work.inbox.put("telegram", chat, chat=str(chat), payload={}, at=NOW)
    me = Me(id=1, username="a_bot")
    worker = Worker(store, me=me, door=Door(()), talks=FakeTalks(), plans=None, now=lambda: NOW)
    looks = [{row.chat for row in worker.waiting()} for _ in range(150)]
    assert max(len(chats) for chats in looks) < 40 / 2, "most is left to the others"
    assert len({frozenset(chats) for chats in looks}) > 100
    assert set().union(*looks) == {str(chat) for chat in range(40)}
    store.close()
