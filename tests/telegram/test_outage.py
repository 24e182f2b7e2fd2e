"""After more than a day away every keeper is told which period may be missing, once."""

from datetime import UTC, datetime, timedelta

import pytest

from bot.telegram.outage import LastPoll
from bot.telegram.post import Post
from bot.terms import KeeperSettings
from storage import Store

START = datetime(2026, 3, 3, 19, 0, tzinfo=UTC)


@pytest.fixture
def store():
    made = Store.open("sqlite://")
    with made.begin() as work:
        for user, zone in ((7, "Europe/Berlin"), (8, "America/New_York"), (9, "UTC")):
            keeper = work.keepers.create("Ada", KeeperSettings(zone=zone), at=START)
            work.keepers.link(keeper.id, "telegram", str(user))
            work.keepers.set_next_round(keeper.id, START)
            if user == 9:
                work.keepers.pause(keeper.id)
    yield made
    made.close()


def told(store):
    with store.look() as work:
        rows = work.outbox.waiting(START + timedelta(days=99), 99)
    return {row.chat: row.payload["params"]["text"] for row in rows}


def test_after_thirty_hours_each_keeper_is_told_in_their_own_time(store):
    LastPoll(store, Post()).note(START)
    assert LastPoll(store, Post()).note(START + timedelta(hours=30)) == 2
    assert set(told(store)) == {"7", "8"}
    assert "from Tue 3 Mar 20:00 to Thu 5 Mar 02:00" in told(store)["7"]
    assert "before Wed 4 Mar 02:00" in told(store)["7"]
    assert "from Tue 3 Mar 14:00 to Wed 4 Mar 20:00" in told(store)["8"]


def test_it_is_told_once_and_without_sound(store):
    LastPoll(store, Post()).note(START)
    for hours in (30, 30.1, 31):
        LastPoll(store, Post()).note(START + timedelta(hours=hours))
    with store.look() as work:
        rows = work.outbox.waiting(START + timedelta(days=9), 99)
    assert len(rows) == 2
    assert all(row.payload["params"]["disable_notification"] for row in rows)


@pytest.mark.parametrize("hours", [0, 1, 23.9, -5])
def test_a_shorter_silence_is_not_worth_a_word(store, hours):
    poll = LastPoll(store, Post())
    poll.note(START)
    assert poll.note(START + timedelta(hours=hours)) == 0
    assert told(store) == {}


def test_the_gap_is_noticed_by_a_bot_that_ran_all_the_time(store):
    poll = LastPoll(store, Post())
    for hours in (0, 10, 20, 50):
        poll.note(START + timedelta(hours=hours))
    assert "from Wed 4 Mar 16:00 to Thu 5 Mar 22:00" in told(store)["7"]
