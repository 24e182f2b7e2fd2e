"""Workers killed at random under load lose nothing and do nothing twice.

A few seconds on each store in every run of the tests; for five minutes on each, with what was done:

    BURROWBELL_KILL_SECONDS=300 pytest -s -o faulthandler_timeout=0 tests/faults/test_killed_at_random.py
"""

from __future__ import annotations

import os
import random
import time
from collections import Counter, defaultdict

import pytest
from sqlalchemy import select

from bot.terms import KeeperSettings, Specimen
from storage import Store
from storage import tables as t
from storage.checkup import faults_of
from tests.faults.mortal_worker import START, work_until_killed
from tests.forks import FORKS

_SECONDS = float(os.environ.get("BURROWBELL_KILL_SECONDS", "5"))
_CHATS = range(70, 78)
_MOST_WAITING = 150


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    if request.param == "postgresql":
        return request.getfixturevalue("server").cleared()
    return f"sqlite:///{tmp_path / 'store.db'}"


@pytest.fixture
def store(url):
    made = Store.open(url)
    with made.begin() as work:
        for chat in _CHATS:
            keeper = work.keepers.create(f"Keeper {chat} (invented)", KeeperSettings(zone="UTC"), at=START)
            work.keepers.link(keeper.id, "telegram", str(chat))
            work.keepers.set_next_round(keeper.id, START)
            change = work.journal.change(keeper.shelf_id, keeper.id, at=START, origin=None)
            work.shelves.add(change, Specimen(tag="A1", species="Grammostola pulchra"), on=START.date())
    yield made
    made.close()


class Gang:
    """Workers, each of which is replaced when it is killed. A SQLite file has one worker only."""

    def __init__(self, url):
        self.url, self.began, self.kills = url, time.time(), 0
        self.workers = [self._new() for _ in range(1 if url.startswith("sqlite") else 3)]

    def _new(self):
        process = FORKS.Process(target=work_until_killed, args=(self.url, self.began), daemon=True)
        process.start()
        return process

    def kill_one(self, chance):
        number = chance.randrange(len(self.workers))
        self.workers[number].kill()
        self.workers[number].join()
        assert self.workers[number].exitcode == -9, "it was at work until it was killed"
        self.workers[number] = self._new()
        self.kills += 1

    def end(self):
        for worker in self.workers:
            worker.kill()
            worker.join()


def test_workers_killed_at_random_lose_nothing_and_do_nothing_twice(store, url):
    chance = random.Random(20261128)
    said, gang = defaultdict(list), Gang(url)
    try:
        ends = time.monotonic() + _SECONDS
        next_kill = time.monotonic() + 1
        while time.monotonic() < ends:
            say_something(store, said, chance)
            if time.monotonic() >= next_kill:
                gang.kill_one(chance)
                next_kill = time.monotonic() + chance.uniform(0.05, 1.2)
            time.sleep(chance.uniform(0, 0.03))
        until_nothing_waits(store)
    finally:
        gang.end()
    assert gang.kills > 0
    print(f"{sum(map(len, said.values()))} messages, {gang.kills} kills")  # noqa: T201  for a run by hand
    check_messages(store, said)
    check_rounds(store)
    assert faults_of(store) == (), "states are what the journal says"


def say_something(store, said, chance):
    """A few messages into the inbox, unless much waits already."""
    with store.begin() as work:
        if waiting(work) > _MOST_WAITING:
            return
        for _ in range(chance.randrange(1, 5)):
            chat, number = chance.choice(_CHATS), sum(map(len, said.values())) + 1
            work.inbox.put("telegram", number, chat=str(chat), payload=update(chat, number), at=START)
            said[chat].append(f"message {number}")


def update(chat, number):
    who = {"id": chat, "is_bot": False, "first_name": "Kim"}
    message = {
        "message_id": number,
        "date": int(START.timestamp()),
        "chat": {"id": chat, "type": "private"},
        "from": who,
        "text": f"message {number}",
    }
    return {"update_id": number, "message": message}


def waiting(work):
    left = select(t.inbox.c.id).where(t.inbox.c.done_at.is_(None), t.inbox.c.aside_at.is_(None))
    return len(work.connection.execute(left).all())


def until_nothing_waits(store):
    patience = time.monotonic() + 120
    while time.monotonic() < patience:
        with store.look() as work:
            if not waiting(work):
                return
        time.sleep(0.1)
    raise AssertionError("the workers never came to the end of it")


def check_messages(store, said):
    with store.look() as work:
        aside = select(t.inbox.c.why).where(t.inbox.c.aside_at.is_not(None))
        assert work.connection.execute(aside).all() == []
        for chat in _CHATS:
            keeper = work.keepers.by_contact("telegram", str(chat))
            notes = [one.entry.note for one in work.journal.entries(keeper.shelf_id, newest_first=False)]
            assert notes == said[chat], "each once, in the order in which they were written"
            (facts,) = work.shelves.facts(keeper.shelf_id)
            assert facts.state.refusals == len(said[chat])
            assert work.dialogs.get(keeper.id, str(chat)).get("heard", 0) == len(said[chat])
            assert [text for text in texts(work, chat) if text.startswith("stored")] == [
                f"stored {text}" for text in said[chat]
            ]


def check_rounds(store):
    """Every round that was opened was posted, once; days that went by while nobody ticked have none."""
    with store.look() as work:
        opened = work.connection.execute(select(t.occurrence.c.keeper_id, t.occurrence.c.day)).all()
        posted = Counter()
        for chat in _CHATS:
            keeper = work.keepers.by_contact("telegram", str(chat))
            rounds = (text for text in texts(work, chat) if text.startswith("round of "))
            posted.update((keeper.id, text.removeprefix("round of ")) for text in rounds)
    assert posted == Counter((keeper_id, f"{day}") for keeper_id, day in opened)
    assert len(opened) >= len(_CHATS)


def texts(work, chat):
    rows = select(t.outbox.c.payload).where(t.outbox.c.chat == str(chat)).order_by(t.outbox.c.id)
    return [row.payload["params"]["text"] for row in work.connection.execute(rows)]
