"""A flood from one chat slows that chat only: in the inbox, in the worker's turns, in what is sent.

The figures of Telegram that the limits lean on are those of its Bot API: at most 100 updates in one answer.
"""

import itertools
from datetime import UTC, datetime, timedelta

import pytest

from bot.telegram import floods, invites, words
from bot.telegram.floods import CROWD, MOST_ASIDE, MOST_WAITING, of_all_chats
from bot.telegram.poller import store_updates
from storage import Store
from tests.storage import postgres
from tests.telegram import updates as make
from tests.telegram.test_worker import ADA, BO, EVE, Desk

NOW = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def server():
    with postgres.server() as running:
        yield running


@pytest.fixture(params=["sqlite", "postgresql"])
def desk(request):
    """A worker on each kind of store; Ada and Bo are keepers already."""
    made = Desk()
    if request.param == "postgresql":
        made.store.close()
        made = Desk()
        made.store = Store.open(request.getfixturevalue("server").cleared())
        made.worker._store = made.store
    made.says("/start", user=ADA)
    made.says("/start", user=BO)
    with made.store.begin() as work:
        for row in work.outbox.waiting(made.now, 10):
            work.outbox.sent(row.id, message_ref=None, at=made.now)
    yield made
    made.store.close()


def floods_in(desk, user, n, first=1000):
    """So many messages of one person, as they come in, a hundred at a time."""
    numbers = itertools.count(first)
    updates = [make.says(f"note {i}", user=user) | {"update_id": next(numbers)} for i in range(n)]
    for at in range(0, n, 100):
        store_updates(desk.store, updates[at : at + 100], desk.now)


def waits(desk, user):
    with desk.store.look() as work:
        return work.inbox.waits_in(str(user), most=10_000)


def test_who_writes_during_anothers_flood_is_next_in_turn(desk):
    floods_in(desk, ADA, 250)
    desk.put(make.says("fed Ink", user=BO))
    assert [int(row.chat) for row in desk.worker.waiting()] == [ADA, BO]


def test_what_is_too_much_at_once_is_kept_and_not_handled_and_the_keeper_is_told_once(desk):
    floods_in(desk, ADA, MOST_WAITING + 150)
    assert waits(desk, ADA) == MOST_WAITING
    with desk.store.reader() as connection:
        kept = connection.exec_driver_sql(
            "SELECT count(*), count(aside_at) FROM inbox WHERE done_at IS NULL"
        ).one()
    assert tuple(kept) == (MOST_WAITING + 150, 150)
    with desk.store.look() as work:
        told = [row.payload["params"]["text"] for row in work.outbox.waiting(desk.now, 10)]
    assert told == [words.too_much()]


def test_of_what_is_set_aside_only_so_much_is_kept_and_all_is_confirmed_all_the_same(desk):
    floods_in(desk, EVE, MOST_WAITING + MOST_ASIDE + 150)
    floods_in(desk, ADA, MOST_WAITING + 7, first=5000)
    with desk.store.look() as work:
        assert work.inbox.aside_in(str(EVE), most=10_000) == MOST_ASIDE
        assert work.inbox.aside_in(str(ADA), most=10_000) == 7
    update = make.says("one more", user=EVE) | {"update_id": 9000}
    assert store_updates(desk.store, [update], desk.now) == 9000


def test_the_flood_of_one_chat_does_not_count_against_another(desk):
    floods_in(desk, ADA, MOST_WAITING + 1)
    floods_in(desk, BO, 5, first=5000)
    assert waits(desk, BO) == 5


def test_a_strangers_flood_is_bounded_and_not_answered_for_it(desk):
    floods_in(desk, EVE, MOST_WAITING + 150)
    assert waits(desk, EVE) == MOST_WAITING
    with desk.store.look() as work:
        assert work.outbox.waiting(desk.now, 10) == ()


def test_a_keeper_to_whom_too_much_waits_is_not_taken_in_further_until_it_is_sent(desk):
    with desk.store.begin() as work:
        for _ in range(MOST_WAITING):
            work.outbox.put(keeper_id=None, chat=str(ADA), method="sendMessage", payload={}, at=desk.now)
    floods_in(desk, ADA, 3)
    assert waits(desk, ADA) == 0
    with desk.store.begin() as work:
        for row in work.outbox.waiting(desk.now, 1000):
            work.outbox.sent(row.id, message_ref=None, at=desk.now)
    floods_in(desk, ADA, 3, first=2000)
    assert waits(desk, ADA) == 3


def test_the_sender_sees_past_a_chat_that_fills_its_whole_look(desk):
    with desk.store.begin() as work:
        for n in range(4 * CROWD):
            chat = str(ADA if n < 3 * CROWD else EVE)
            work.outbox.put(keeper_id=None, chat=chat, method="sendMessage", payload={}, at=desk.now)
        work.outbox.put(keeper_id=None, chat=str(BO), method="sendMessage", payload={}, at=desk.now)
    with desk.store.look() as work:
        seen = of_all_chats(work, desk.now, 2 * CROWD)
        assert {row.chat for row in seen} == {str(ADA), str(EVE), str(BO)}
        assert len({row.id for row in seen}) == len(seen)
        assert len(of_all_chats(work, desk.now, 10 * CROWD)) == 4 * CROWD + 1


def test_a_look_at_the_outbox_ends_however_many_chats_crowd_it(desk, monkeypatch):
    monkeypatch.setattr(floods, "CROWD", 1)
    with desk.store.begin() as work:
        for n in range(60):
            work.outbox.put(keeper_id=None, chat=str(n), method="sendMessage", payload={}, at=desk.now)
    with desk.store.look() as work:
        assert len(of_all_chats(work, desk.now, 2)) == 2 * floods._LOOKS


def test_a_keeper_has_only_so_many_invitations_open(desk):
    for _ in range(invites.MOST_OPEN):
        assert "start=" in desk.texts("/invite")[0]
    assert desk.texts("/invite") == [words.invites_open()]
    desk.now += timedelta(days=3)
    assert "start=" in desk.texts("/invite")[0]


def test_a_name_longer_than_telegram_has_any_is_cut(desk):
    update = make.says("hello", user=EVE)
    update["message"]["from"]["first_name"] = "x" * 5000
    from bot.telegram.translate import Me, translate

    heard = translate(update, received_at=desk.now, me=Me(id=1, username="b"))
    assert len(heard.person.name) == 129
