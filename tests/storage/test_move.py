"""A store moves from SQLite to PostgreSQL and back with every row, under its number, and goes on there."""

from datetime import timedelta

import pytest
from sqlalchemy import select, text

from bot.terms.schedule import Care, Group, Scope, SlowMonths
from storage import Store, move
from storage.backup import backup, restore
from storage.errors import CopyFailedError, StoreNotEmptyError
from storage.tables import METADATA
from tests.storage.given import NOW, TODAY, Shelf, entry, shelf_in, specimen


def lived_in(store):
    """An invented store with rows in every table."""
    shelf = shelf_in(store)
    keeper = shelf.keeper
    shelf.add(specimen("A1", name="Ångström", place="Shelf A", aka=("☂",)), specimen("B1", lot_size=4))
    shelf.log(entry("fed", "A1", prey="cricket"), entry("measured", "A1", span_cm="4.125"))
    shelf.undo(shelf.log(entry("note", "A1", note="żaba\n☂")))
    shelf.replace([shelf.entries()[0].id], entry("measured", "A1", span_cm="4.5"))
    changed = shelf.alter("A1", feed_every=9)
    with store.begin() as work:
        work.bookmarks.set("telegram", {"heard": 7})
        work.keepers.link(keeper.id, "telegram", "7")
        work.keepers.set_next_round(keeper.id, NOW + timedelta(microseconds=1))
        work.keepers.invite(shelf.id, role="helper", code_hash="h", by=keeper.id, expires_at=NOW, at=NOW)
        work.handovers.begin(
            shelf.id,
            by=keeper.id,
            called="my sister",
            first=TODAY,
            last=TODAY,
            code_hash="h2",
            expires_at=NOW,
            at=NOW,
        )
        work.news.add([keeper.id], shelf.id, [changed], at=NOW, due_at=NOW)
        work.holds.set(changed, ["A1"], since=TODAY, until=None)
        work.schedules.set(changed, Care.WATER, Group(Scope.SPECIES, "Żaba ☂"), 3)
        work.schedules.set_slow(changed, SlowMonths(11, 2))
        work.reminders.add(
            changed,
            what="look",
            tags=["A1"],
            next_at=NOW,
            day=TODAY,
            time=None,
            repeats="FREQ=DAILY;INTERVAL=3",
            zone="UTC",
        )
        work.photos.add(changed, "A1", reference="r", path=None, at=NOW, size=(3, 4))
        work.rounds.open_(keeper.id, shelf.id, TODAY, due_at=NOW, tasks=[{"tag": "A1"}], at=NOW)
        work.prompts.put(keeper.id, chat="7", actions=[{"undo": 1}], pending=None, change_id=changed, at=NOW)
        work.dialogs.set(keeper.id, "7", {"of": "A1"})
        work.inbox.put("telegram", 2**40, chat="7", payload={"text": "\x00\ud800 ☂"}, at=NOW)
        work.outbox.put(keeper_id=keeper.id, chat="7", method="say", payload={"a": [1.5]}, at=NOW, key="k")
    return shelf


def all_rows(store):
    with store.reader() as connection:
        return {
            table.name: connection.execute(select(table).order_by(*table.primary_key)).all()
            for table in METADATA.sorted_tables
        }


@pytest.fixture
def full(file_url):
    store = Store.open(file_url)
    shelf = lived_in(store)
    yield shelf
    store.close()


def test_every_table_has_a_row_to_move(full):
    assert [name for name, rows in all_rows(full.store).items() if not rows] == []


def test_every_row_moves_to_postgresql_and_back_the_same(full, file_url, server_url, tmp_path):
    rows = all_rows(full.store)
    counts = move.move(file_url, server_url)
    assert counts == {name: len(found) for name, found in rows.items()}
    there = Store.open(server_url)
    assert all_rows(there) == rows
    there.close()
    back = f"sqlite:///{tmp_path / 'back.db'}"
    move.move(server_url, back)
    returned = Store.open(back)
    assert all_rows(returned) == rows
    returned.close()


def test_life_goes_on_after_the_move(full, file_url, server_url):
    move.move(file_url, server_url)
    shelf = Shelf(Store.open(server_url), full.keeper)
    yesterday = shelf.log(entry("fed", "A1", day=TODAY - timedelta(days=1)), entry("sealed", "A1"))
    shelf.add(specimen("C1"))
    assert shelf.facts("A1").state.sealed_since == TODAY
    assert shelf.undo(yesterday)
    for before, after in zip(all_rows(full.store).values(), all_rows(shelf.store).values(), strict=True):
        assert len(after) >= len(before)
    with shelf.store.begin() as work:
        assert not work.inbox.put("telegram", 2**40, chat="7", payload={}, at=NOW)
        assert (
            work.prompts.put(shelf.keeper.id, chat="7", actions=[], pending=None, change_id=None, at=NOW) == 2
        )
    shelf.store.close()


def test_a_store_that_holds_something_is_not_moved_into(full, file_url, server_url, tmp_path):
    other = f"sqlite:///{tmp_path / 'other.db'}"
    shelf_in(Store.open(other)).store.close()
    move.move(file_url, server_url)
    for target in (server_url, other):
        with pytest.raises(StoreNotEmptyError, match="not empty"):
            move.move(file_url, target)


def test_a_row_that_comes_over_differently_stops_the_move_and_nothing_is_kept(
    full, file_url, server_url, monkeypatch
):
    copy = move._copy

    def copy_badly(table, source, target):
        copied = copy(table, source, target)
        if table.name == "entry":
            target.execute(text("UPDATE entry SET span_cm = 4501 WHERE span_cm = 4500"))
        return copied

    monkeypatch.setattr(move, "_copy", copy_badly)
    with pytest.raises(CopyFailedError, match="rows of entry"):
        move.move(file_url, server_url)
    there = Store.open(server_url)
    assert {name for name, rows in all_rows(there).items() if rows} <= {"bookmark"}
    there.close()


def test_a_store_on_a_server_is_backed_up_to_a_file_and_restored_from_it(
    full, file_url, server_url, server, tmp_path
):
    rows = all_rows(full.store)
    move.move(file_url, server_url)
    counts = backup(server_url, tmp_path / "copy.db")
    assert (counts["entry"], counts["specimen"]) == (len(rows["entry"]), 2)
    assert not list(tmp_path.glob("copy.db?*"))
    elsewhere = server.empty()
    assert restore(tmp_path / "copy.db", elsewhere) == counts
    with pytest.raises(StoreNotEmptyError):
        restore(tmp_path / "copy.db", elsewhere)
    restored = Store.open(elsewhere)
    assert all_rows(restored) == rows
    restored.close()
    server.drop(elsewhere)
    local = f"sqlite:///{tmp_path / 'local.db'}"
    restore(tmp_path / "copy.db", local)
    opened = Store.open(local)
    assert all_rows(opened) == rows
    opened.close()
