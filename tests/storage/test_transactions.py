"""A transaction is whole or nothing, whoever dies in it and whoever else writes meanwhile."""

import subprocess
import sys
import textwrap
import threading
import time
import traceback
from itertools import islice
from pathlib import Path

import pytest
from sqlalchemy import insert, text
from sqlalchemy.exc import IntegrityError, StatementError

from storage import Store
from storage import tables as t
from storage.errors import StoreError, StoreUnavailableError
from tests.storage.given import NOW, entry, shelf_in, specimen

ROOT = Path(__file__).parents[2]


class Killed(BaseException):
    """What a killed worker looks like from within."""


def handle(work, shelf, inboxed):
    """All that one message writes."""
    change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=f"telegram:7:{inboxed}")
    yield work.journal.log(change, [entry("fed", "A1", "A2")], zone="UTC")
    yield work.prompts.put(shelf.keeper.id, chat="7", actions=[], pending=None, change_id=change, at=NOW)
    yield work.outbox.put(keeper_id=shelf.keeper.id, chat="7", method="say", payload={}, at=NOW)
    yield work.dialogs.set(shelf.keeper.id, "7", {"of": "A1"})
    yield work.inbox.done(inboxed, at=NOW)


@pytest.mark.parametrize("steps", range(6))
def test_a_worker_killed_after_any_step_leaves_nothing_and_the_update_waits_still(shelf, steps):
    with shelf.store.begin() as work:
        work.inbox.put("telegram", 1, chat="7", payload={}, at=NOW)
        (waiting,) = work.inbox.waiting(1)
    before = shelf.all_facts()

    def handle_and_die():
        with shelf.store.begin() as work:
            for _ in islice(handle(work, shelf, waiting.id), steps):
                pass
            raise Killed

    with pytest.raises(Killed):
        handle_and_die()
    with shelf.store.begin() as work:
        assert work.inbox.waiting(5) == (waiting,)
        assert work.outbox.waiting(NOW, 5) == ()
        assert work.journal.entries(shelf.id) == ()
        assert work.journal.change_of(shelf.id, f"telegram:7:{waiting.id}") is None
        assert work.dialogs.get(shelf.keeper.id, "7") == {}
        assert work.prompts.latest(shelf.keeper.id, "7") is None
    assert shelf.all_facts() == before


def test_a_process_killed_before_its_commit_leaves_nothing_and_after_it_everything(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"))
    script = textwrap.dedent("""
        import os, signal, sys
        from storage import Store
        from tests.storage.given import NOW, Shelf, entry
        store = Store.open(sys.argv[1])
        with store.look() as work:
            shelf = Shelf(store, work.keepers.get(1))
        shelf.log(entry("fed", "A1"))
        with store.begin() as work:
            change = work.journal.change(shelf.id, 1, at=NOW, origin=None)
            work.journal.log(change, [entry("molted", "A1")], zone="UTC")
            os.kill(os.getpid(), signal.SIGKILL)
    """)
    done = subprocess.run([sys.executable, "-c", script, file_url], cwd=ROOT, check=False)
    assert done.returncode == -9
    assert [one.entry.kind for one in shelf.entries()] == ["fed"]
    assert shelf.facts("A1").state.last_molted is None
    shelf.store.close()


def test_what_is_written_in_a_look_is_not_kept(shelf):
    with shelf.store.look() as work:
        work.keepers.pause(shelf.keeper.id)
    with shelf.store.look() as work:
        assert not work.keepers.get(shelf.keeper.id).paused


@pytest.mark.parametrize("outer", ["begin", "look"])
@pytest.mark.parametrize("inner", ["begin", "look"])
def test_a_transaction_within_another_is_refused_not_waited_for(store, outer, inner):
    with getattr(store, outer)(), pytest.raises(StoreError, match="within another"):  # noqa: SIM117
        with getattr(store, inner)():
            pytest.fail("begun")
    with store.begin():
        pass


def test_two_threads_writing_lose_nothing_and_states_stay_true(shelf):
    """Both log for the same specimens; refusals are counted, so a lost update would show."""
    failures = []

    def write():
        try:
            for _ in range(25):
                shelf.log(entry("refused", "A1", "A2"))
                shelf.all_facts()
        except Exception as problem:
            failures.append(problem)

    threads = [threading.Thread(target=write) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert [shelf.facts(tag).state.refusals for tag in ("A1", "A2")] == [50, 50]
    assert len(shelf.entries(tags=["A1"])) == 50


def test_two_stores_on_one_file_take_turns(file_url):
    """As two processes would: each has connections of its own."""
    one = shelf_in(Store.open(file_url))
    one.add(specimen("A1"))
    other = type(one)(Store.open(file_url), one.keeper)
    threads = [
        threading.Thread(target=lambda shelf=shelf: [shelf.log(entry("refused", "A1")) for _ in range(20)])
        for shelf in (one, other)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert one.facts("A1").state.refusals == 40
    one.store.close()
    other.store.close()


def test_readers_see_one_moment_and_do_not_wait_for_a_writer(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"))
    seen = []
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        work.journal.log(change, [entry("fed", "A1")], zone="UTC")
        reader = threading.Thread(target=lambda: seen.append(len(shelf.entries())))
        reader.start()
        reader.join(timeout=5)
    assert seen == [0]
    assert len(shelf.entries()) == 1
    shelf.store.close()


def test_a_file_is_opened_as_what_is_committed_stays(file_url):
    store = Store.open(file_url)
    with store.look() as work:
        found = {
            name: work.connection.execute(text(f"PRAGMA {name}")).scalar()
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    store.close()
    full = 2  # https://www.sqlite.org/pragma.html#pragma_synchronous: 2 is FULL
    assert (found["journal_mode"], found["synchronous"], found["foreign_keys"]) == ("wal", full, 1)
    assert found["busy_timeout"] >= 5000


@pytest.mark.parametrize(
    ("url", "complaint"),
    [
        ("not a url", "not a store's URL"),
        ("mysql://host/db", "Only sqlite"),
        ("sqlite:////proc/none/store.db", "folder cannot be made"),
    ],
)
def test_what_cannot_be_opened_is_told_in_one_line(url, complaint):
    with pytest.raises(StoreError, match=complaint) as told:
        Store.open(url)
    assert "\n" not in str(told.value)


def test_a_server_without_its_driver_is_told_in_one_line(monkeypatch):
    monkeypatch.setitem(sys.modules, "psycopg", None)
    with pytest.raises(StoreError, match=r"pip install 'burrowbell\[postgres\]'"):
        Store.open("postgresql://localhost/none")


def test_a_file_that_is_no_store_is_refused_and_left_as_it_is(tmp_path):
    file = tmp_path / "letter.txt"
    file.write_text("Dear keeper, " * 500)
    with pytest.raises(StoreUnavailableError, match="not a store"):
        Store.open(f"sqlite:///{file}")
    assert file.read_text() == "Dear keeper, " * 500


def test_a_database_of_something_else_is_refused(file_url):
    store = Store.open(file_url)
    with store.engine.begin() as connection:
        connection.execute(text("DROP TABLE alembic_version"))
    store.close()
    with pytest.raises(StoreError, match="something else"):
        Store.open(file_url)


def test_a_full_disk_is_told_plainly(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"))
    with shelf.store.begin() as work:
        pages = work.connection.execute(text("PRAGMA page_count")).scalar()
        work.connection.execute(text(f"PRAGMA max_page_count = {pages}"))
    notes = [entry("note", "A1", note="x" * 4000)] * 200
    with pytest.raises(StoreUnavailableError, match="disk is full"):
        shelf.log(*notes)
    assert shelf.entries() == ()
    shelf.store.close()


def test_a_damaged_file_is_told_plainly(file_url, tmp_path):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(*(specimen(f"T{n}") for n in range(300)))
    shelf.store.close()
    with (tmp_path / "store.db").open("r+b") as file:
        file.seek(8192)
        file.write(b"\xa5" * 200_000)
    with pytest.raises(StoreUnavailableError, match="damaged"):
        shelf_in(Store.open(file_url)).all_facts()


def test_no_word_of_a_keeper_is_in_an_error_s_text(shelf):
    """What is told of a statement that failed may end up in a log, with all that caused it.

    PostgreSQL quotes rows in the DETAIL of a complaint (its manual, 55.8 "Error and Notice Message Fields").
    """
    rows = [
        {"shelf_id": shelf.id, "name": "secret place", "key": None},
        {"shelf_id": shelf.id, "name": "x", "key": "secret twin"},
    ]
    with shelf.store.begin() as work:
        work.connection.execute(insert(t.place), rows[1])
    for row in rows:
        with pytest.raises(IntegrityError) as told, shelf.store.begin() as work:
            work.connection.execute(insert(t.place), row)
        assert "secret" not in "".join(traceback.format_exception(told.value))
        assert "place" in str(told.value), "which table it was stays to be seen"


def test_a_value_that_the_server_cannot_read_is_not_quoted(server_url):
    store, row = Store.open(server_url), {"said": "secret"}
    with pytest.raises(StatementError) as told, store.begin() as work:
        work.connection.execute(text("SELECT CAST(:said AS integer)"), row)
    assert "secret" not in "".join(traceback.format_exception(told.value))
    assert "22P02" in str(told.value), "invalid_text_representation, PostgreSQL manual, appendix A"
    store.close()


def test_writers_take_turns_in_the_order_in_which_they_came(file_url):
    """Whoever writes again and again comes behind those who waited meanwhile."""
    store, order = Store.open(file_url), []

    def write(who):
        with store.begin() as work:
            order.append(who)
            work.bookmarks.set(who, {})

    others = []
    with store.begin():
        for who in ("first", "second", "third"):
            others.append(threading.Thread(target=write, args=[who]))
            others[-1].start()
            while store.waiting < len(others):
                time.sleep(0.001)
    write("again")
    for other in others:
        other.join()
    store.close()
    assert order == ["first", "second", "third", "again"]
