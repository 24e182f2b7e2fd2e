"""Several workers on one PostgreSQL share what waits: nothing twice, nothing lost, chats in order."""

import threading
import time
from collections import defaultdict
from contextlib import suppress
from datetime import timedelta

import pytest
from sqlalchemy import text

from bot.terms import KeeperSettings
from storage import Store, migrate
from storage.errors import StoreUnavailableError, TagTakenError
from storage.records import Role
from tests.storage.given import NOW, TODAY, Shelf, entry, shelf_in, specimen


@pytest.fixture
def stores(server_url):
    """As many connections of their own as workers: what two processes would have."""
    made = [Store.open(server_url) for _ in range(3)]
    yield made
    for store in made:
        store.close()


def at_once(*deeds):
    """Runs deeds in threads of their own; raises what any of them raised."""
    problems = []

    def run(deed):
        try:
            deed()
        except Exception as problem:
            problems.append(problem)

    threads = [threading.Thread(target=run, args=(deed,)) for deed in deeds]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert problems == []


def test_workers_drain_the_inbox_once_and_in_order_within_each_chat(stores):
    chats, length = 6, 10
    with stores[0].begin() as work:
        for number in range(chats * length):
            work.inbox.put("telegram", number, chat=str(number % chats), payload={}, at=NOW)
    handled = defaultdict(list)

    def drain(store):
        idle = 0
        while idle < 20:
            with store.begin() as work:
                taken = work.inbox.waiting(1)
                for one in taken:
                    handled[one.chat].append(one.update_id)
                    work.inbox.done(one.id, at=NOW)
            idle = 0 if taken else idle + 1

    at_once(*(lambda store=store: drain(store) for store in stores))
    assert {chat: numbers == sorted(numbers) for chat, numbers in handled.items()} == {
        str(chat): True for chat in range(chats)
    }
    assert sorted(number for numbers in handled.values() for number in numbers) == list(range(chats * length))


def test_an_update_in_one_worker_s_hand_and_all_behind_it_are_left_to_that_worker(stores):
    with stores[0].begin() as work:
        for number, chat in ((1, "a"), (2, "a"), (3, "b")):
            work.inbox.put("telegram", number, chat=chat, payload={}, at=NOW)
    with stores[0].begin() as mine:
        assert [one.update_id for one in mine.inbox.waiting(1)] == [1]
        seen = []

        def others():
            with stores[1].begin() as work:
                seen.extend(one.update_id for one in work.inbox.waiting(10))

        at_once(others)
        assert seen == [3]
    with stores[1].begin() as work:
        assert [one.update_id for one in work.inbox.waiting(10)] == [1, 3]


def test_an_update_that_two_workers_saw_waiting_is_taken_by_one(stores):
    with stores[0].begin() as work:
        work.inbox.put("telegram", 1, chat="a", payload={}, at=NOW)
        (seen,) = work.inbox.waiting(1)
    taken = []

    def take(store):
        with store.begin() as work:
            if work.inbox.take(seen.id):
                taken.append(store)
                work.inbox.done(seen.id, at=NOW)

    at_once(*(lambda store=store: take(store) for store in stores))
    assert len(taken) == 1


def test_two_senders_never_claim_the_same_request(stores):
    with stores[0].begin() as work:
        for number in range(40):
            work.outbox.put(keeper_id=None, chat=str(number), method="say", payload={}, at=NOW)
    claimed = []

    def send(store):
        for _ in range(10):
            with store.begin() as work:
                claimed.extend(one.id for one in work.outbox.claim(NOW, 5))

    at_once(*(lambda store=store: send(store) for store in stores))
    assert len(claimed) == len(set(claimed)) == 40


def test_a_keeper_due_for_a_round_is_in_one_worker_s_hand_at_a_time(stores):
    keepers = [shelf_in(stores[0], f"keeper {n}").keeper for n in range(4)]
    with stores[0].begin() as work:
        for keeper in keepers:
            work.keepers.set_next_round(keeper.id, NOW)
    opened = []

    def tick(store):
        for _ in range(10):
            with store.begin() as work:
                for keeper in work.keepers.due_for_round(NOW, 1):
                    if work.rounds.open_(keeper.id, keeper.shelf_id, TODAY, due_at=NOW, tasks=[], at=NOW):
                        opened.append(keeper.id)
                    work.keepers.set_next_round(keeper.id, NOW + timedelta(days=1))

    at_once(*(lambda store=store: tick(store) for store in stores))
    assert sorted(opened) == [keeper.id for keeper in keepers]


def test_a_round_that_several_workers_saw_due_is_taken_by_one_of_them(stores):
    keeper = shelf_in(stores[0]).keeper
    with stores[0].begin() as work:
        work.keepers.set_next_round(keeper.id, NOW)
    taken = []

    def make(store):
        with store.begin() as work:
            if work.keepers.take_round(keeper.id, NOW):
                taken.append(store)
                work.keepers.set_next_round(keeper.id, NOW + timedelta(days=1))

    at_once(*(lambda store=store: make(store) for store in stores))
    assert len(taken) == 1
    with stores[0].begin() as work:
        assert not work.keepers.take_round(keeper.id, NOW)


def test_workers_who_write_to_one_shelf_lose_no_update_of_its_states(stores):
    first = shelf_in(stores[0])
    first.add(specimen("A1"), specimen("A2"))
    shelves = [Shelf(store, first.keeper) for store in stores]

    def write(shelf):
        for _ in range(10):
            shelf.log(entry("refused", "A1", "A2"))
            shelf.redo(change := shelf.log(entry("refused", "A2")))
            shelf.undo(change)

    at_once(*(lambda shelf=shelf: write(shelf) for shelf in shelves))
    assert [first.facts(tag).state.refusals for tag in ("A1", "A2")] == [30, 30]


def test_two_workers_cannot_give_one_tag_to_two_living_specimens(stores):
    first = shelf_in(stores[0])
    added = []

    def add(store):
        shelf = Shelf(store, first.keeper)
        for number in range(8):
            with suppress(TagTakenError):
                shelf.add(specimen(f"N{number}"))
                added.append(number)

    at_once(*(lambda store=store: add(store) for store in stores))
    assert sorted(added) == list(range(8))
    assert len(first.specimens()) == 8


def test_a_prompt_pressed_twice_at_once_is_answered_once(stores):
    keeper = shelf_in(stores[0]).keeper
    with stores[0].begin() as work:
        number = work.prompts.put(keeper.id, chat="7", actions=[], pending=None, change_id=None, at=NOW)
    answers = []

    def press(store):
        with store.begin() as work:
            answers.append(work.prompts.answered(number, at=NOW))

    at_once(*(lambda store=store: press(store) for store in stores))
    assert sorted(answers) == [False, False, True]


def test_a_look_shows_one_moment_while_others_write(stores):
    shelf = shelf_in(stores[0])
    shelf.add(specimen("A1"))
    other = Shelf(stores[1], shelf.keeper)
    with shelf.store.look() as work:
        before = work.journal.entries(shelf.id)
        at_once(lambda: other.log(entry("fed", "A1")))
        assert work.journal.entries(shelf.id) == before == ()
        assert work.shelves.facts(shelf.id)[0].state.last_fed is None
    assert len(shelf.entries()) == 1


def test_workers_that_start_at_once_on_an_empty_database_all_find_it_whole(server):
    url, opened = server.empty(), []
    at_once(*[lambda: opened.append(Store.open(url))] * 3)
    for store in opened:
        with store.look() as work:
            assert migrate.revision_of(work.connection) == migrate.HEAD
        store.close()


def test_a_server_that_cannot_be_reached_is_told_in_one_line(tmp_path):
    with pytest.raises(StoreUnavailableError, match="cannot be reached") as told:
        Store.open(f"postgresql+psycopg://nobody@/none?host={tmp_path}")
    assert "\n" not in str(told.value)


def test_two_who_open_one_invite_at_once_are_one_keeper_and_a_stranger(stores):
    shelf = shelf_in(stores[0])
    with stores[0].begin() as work:
        work.keepers.invite(
            shelf.id,
            role=Role.PARTNER,
            code_hash="one code",
            by=shelf.keeper.id,
            expires_at=NOW + timedelta(hours=1),
            at=NOW,
        )
    came = {}

    def opens(work, address):
        came[address] = work.keepers.redeem(
            "one code", name=address, front_end="tests", address=address, settings=KeeperSettings(), at=NOW
        )

    def second():
        with stores[1].begin() as work:
            opens(work, "second")

    with stores[0].begin() as work:
        opens(work, "first")
        late = threading.Thread(target=second)
        late.start()
        wait_until(lambda: somebody_waits(stores[2]))
    late.join(timeout=60)
    assert (came["first"].name, came["second"]) == ("first", None)
    with stores[2].look() as work:
        assert work.keepers.by_contact("tests", "second") is None


def somebody_waits(store):
    """Whether a transaction of the server waits for another."""
    with store.reader() as connection:
        return connection.execute(text("SELECT count(*) FROM pg_locks WHERE NOT granted")).scalar_one() > 0


def wait_until(is_so):
    deadline = time.monotonic() + 60
    while not is_so():
        assert time.monotonic() < deadline
        time.sleep(0.05)
