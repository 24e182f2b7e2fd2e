"""A backup is whole while the store is in use, and a restore never writes over a shelf unasked."""

import sqlite3
import threading
from contextlib import closing
from datetime import timedelta

import pytest
from sqlalchemy import create_engine, inspect

from storage import Store
from storage import backup as module
from storage.backup import backup, restore
from storage.errors import CopyFailedError, StoreError, StoreNotEmptyError, StoreTooNewError
from tests.storage.given import NOW, entry, shelf_in, specimen


@pytest.fixture
def lived_in(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"), specimen("A2"))
    for _ in range(5):
        shelf.log(entry("fed", "A1"))
    yield shelf
    shelf.store.close()


def entries_in(url):
    store = Store.open(url)
    with store.look() as work:
        found = work.journal.entries(1)
    store.close()
    return found


def test_what_is_still_in_the_write_ahead_log_is_in_the_backup(lived_in, file_url, tmp_path):
    assert (tmp_path / "store.db-wal").stat().st_size > 0
    counts = backup(file_url, tmp_path / "copy.db")
    assert (counts["entry"], counts["specimen"], counts["keeper"]) == (5, 2, 1)
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        assert copy.execute("SELECT count(*) FROM entry").fetchone() == (5,)
    assert not list(tmp_path.glob("copy.db?*")), "one file, with no side files"


def test_a_backup_is_restored_to_an_empty_place(lived_in, file_url, tmp_path):
    backup(file_url, tmp_path / "copy.db")
    elsewhere = f"sqlite:///{tmp_path / 'new' / 'store.db'}"
    counts = restore(tmp_path / "copy.db", elsewhere)
    assert counts["entry"] == 5
    assert entries_in(elsewhere) == lived_in.entries()


def test_a_backup_may_be_made_while_others_write(lived_in, file_url, tmp_path):
    stop = threading.Event()
    failures = []

    def write():
        while not stop.is_set():
            try:
                lived_in.log(entry("fed", "A1", "A2"))
            except Exception as problem:
                failures.append(problem)
                return

    writer = threading.Thread(target=write)
    writer.start()
    try:
        counts = [backup(file_url, tmp_path / f"copy{n}.db")["entry"] for n in range(5)]
    finally:
        stop.set()
        writer.join()
    assert failures == []
    assert counts == sorted(counts)
    for number, count in enumerate(counts):
        assert len(entries_in(f"sqlite:///{tmp_path / f'copy{number}.db'}")) == count


@pytest.mark.parametrize("meanwhile", ["swept", "written"])
def test_a_backup_is_of_one_moment_though_rows_go_and_come_meanwhile(
    lived_in, file_url, tmp_path, monkeypatch, meanwhile
):
    with lived_in.store.begin() as work:
        for _number in range(3):
            sent = work.outbox.put(
                keeper_id=None, chat="7", method="sendMessage", payload={}, at=NOW, key=None
            )
            work.outbox.sent(sent, message_ref=None, at=NOW)
    counted, count = [], module._counts

    def counted_and_then_changed(database):
        counted.append(count(database))
        if len(counted) == 1 and meanwhile == "swept":
            with lived_in.store.begin() as work:
                assert work.outbox.sweep(NOW + timedelta(days=90), limit=1000) == 3
        elif len(counted) == 1:
            lived_in.log(entry("fed", "A2"))
        return counted[-1]

    monkeypatch.setattr(module, "_counts", counted_and_then_changed)
    counts = backup(file_url, tmp_path / "copy.db")
    assert (counts["outbox"], counts["entry"]) == (3, 5)
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        assert copy.execute("SELECT count(*) FROM outbox").fetchone() == (3,)


def test_a_store_that_holds_something_is_not_written_over_unasked(lived_in, file_url, tmp_path):
    backup(file_url, tmp_path / "copy.db")
    lived_in.log(entry("molted", "A1"))
    lived_in.store.close()
    with pytest.raises(StoreNotEmptyError, match="--replace"):
        restore(tmp_path / "copy.db", file_url)
    assert len(entries_in(file_url)) == 6
    restore(tmp_path / "copy.db", file_url, replace=True)
    assert len(entries_in(file_url)) == 5
    assert len(entries_in(f"sqlite:///{tmp_path / 'store.db.replaced'}")) == 6


@pytest.mark.parametrize("replace", [True, False])
def test_a_store_in_use_is_not_restored_to(lived_in, file_url, tmp_path, replace):
    """As with the bot still running: it has the store open, though it writes nothing just now."""
    backup(file_url, tmp_path / "copy.db")
    lived_in.log(entry("molted", "A1"))
    with pytest.raises(StoreError, match="in use"):
        restore(tmp_path / "copy.db", file_url, replace=replace)
    assert len(lived_in.entries()) == 6


def test_an_empty_store_may_be_restored_to(lived_in, file_url, tmp_path):
    backup(file_url, tmp_path / "copy.db")
    empty = f"sqlite:///{tmp_path / 'empty.db'}"
    Store.open(empty).close()
    restore(tmp_path / "copy.db", empty)
    assert len(entries_in(empty)) == 5


@pytest.mark.parametrize("what", ["missing", "text", "cut off", "other database", "overwritten"])
def test_what_is_no_whole_backup_is_refused_and_the_store_left_alone(lived_in, file_url, tmp_path, what):
    file = tmp_path / "copy.db"
    backup(file_url, file)
    lived_in.add(*(specimen(f"T{n}", aka=("x" * 300,)) for n in range(300)))
    backup(file_url, file)
    whole = file.read_bytes()
    match what:
        case "missing":
            file.unlink()
        case "text":
            file.write_text("Dear keeper")
        case "cut off":
            file.write_bytes(whole[: len(whole) // 2])
        case "overwritten":
            file.write_bytes(whole[:12288] + b"\xa5" * 20_000 + whole[32288:])
        case "other database":
            file.unlink()
            with closing(sqlite3.connect(file)) as other:
                other.execute("CREATE TABLE letters (words)")
    with pytest.raises(CopyFailedError, match="not a whole backup"):
        restore(file, file_url, replace=True)
    assert len(lived_in.entries()) == 5


@pytest.mark.parametrize("to", ["file", "server"])
def test_a_backup_of_a_later_version_is_refused_before_anything_is_written(
    lived_in, file_url, tmp_path, request, to
):
    file = tmp_path / "copy.db"
    backup(file_url, file)
    with closing(sqlite3.connect(file)) as copy:
        copy.execute("UPDATE alembic_version SET version_num = '9999'")
        copy.commit()
    lived_in.store.close()
    kept = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    target = file_url if to == "file" else request.getfixturevalue("server").empty()
    with pytest.raises(StoreTooNewError, match="backup was written by a newer version") as told:
        restore(file, target, replace=True)
    assert "\n" not in str(told.value)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == kept
    if to == "server":
        engine = create_engine(target)
        assert inspect(engine).get_table_names() == []
        engine.dispose()


def test_a_backup_that_does_not_say_of_which_version_it_is_is_refused(lived_in, file_url, tmp_path):
    backup(file_url, tmp_path / "copy.db")
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        copy.execute("DELETE FROM alembic_version")
        copy.commit()
    with pytest.raises(CopyFailedError, match="not a whole backup"):
        restore(tmp_path / "copy.db", f"sqlite:///{tmp_path / 'new.db'}")
    assert not (tmp_path / "new.db").exists()


def test_there_is_nothing_to_back_up_where_there_is_no_store(tmp_path):
    with pytest.raises(StoreError, match="no store"):
        backup(f"sqlite:///{tmp_path / 'none.db'}", tmp_path / "copy.db")
    assert list(tmp_path.iterdir()) == []


def test_a_backup_that_cannot_be_written_says_so_and_leaves_nothing(lived_in, file_url, tmp_path):
    with pytest.raises(CopyFailedError, match="could not be copied"):
        backup(file_url, tmp_path / "no folder" / "copy.db")
    assert not list(tmp_path.glob("*.part"))
