"""Faults of stores: naive times, backups without side files, lost rows, two databases that differ."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime

import pytest
from sqlalchemy import text

from storage import Store, migrate
from storage.backup import backup, restore
from storage.errors import StoreError
from storage.move import move
from tests.faults.house import House

WEDNESDAY = "2026-03-04T20:00"


def test_an_instant_is_the_same_after_a_restart_and_on_either_store(any_home):
    """source: IBM/mcp-context-forge#3531; MemMachine/MemMachine#1462; truenas/middleware#17515"""
    house = any_home(now=WEDNESDAY, zone="America/Los_Angeles")
    house.says("fed Rosie 1 cricket")
    house.restart()
    with house.store.look() as work:
        (row,) = work.journal.entries(house.shelf_id)
    assert row.recorded_at == datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
    assert row.zone == "America/Los_Angeles"
    assert row.entry.day.isoformat() == "2026-03-04"
    assert "today" in house.says("when did Rosie last eat?", now="2026-03-04T20:05")


def test_a_backup_made_while_the_bot_writes_holds_all_that_was_committed(tmp_path):
    """source: senigami/audiobook-studio#246; praeclarum/sqlite-net#792; vavallee/bindery#2337;
    oliexdev/openScale#1289"""
    store = Store.open(f"sqlite:///{tmp_path / 'one.db'}")
    house = House(store, now=WEDNESDAY)
    for number in range(1, 6):
        house.says(f"Rosie weighs {number} g", now=f"2026-03-0{number}T10:00")
    backup(store.url, tmp_path / "copy.db")
    assert list(tmp_path.glob("copy.db*")) == [tmp_path / "copy.db"]
    house.says("fed Sunny", now="2026-03-06T10:00")
    store.close()
    with sqlite3.connect(tmp_path / "copy.db") as copy:
        assert copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert copy.execute("SELECT count(*) FROM entry").fetchone() == (5,)


def test_a_store_that_moves_to_postgresql_has_every_row_and_goes_on(server, tmp_path):
    """source: MagicStack/asyncpg#1139; google/adk-python#4366; Skyvern-AI/skyvern#3617"""
    source = Store.open(f"sqlite:///{tmp_path / 'one.db'}")
    house = House(source, now=WEDNESDAY)
    house.says("fed Rosie 2 crickets")
    house.says("Sunny molted yesterday")
    url = server.empty()
    move(source.url, url)
    target = Store.open(url)
    moved = House.__new__(House)
    moved.__dict__.update(house.__dict__, store=target)
    moved.restart()
    assert moved.told_of("count") == house.told_of("count")
    moved.says("fed Biscuit yesterday")
    assert ("T112", "fed", "2026-03-03") in moved.told_of()
    source.close()
    target.close()


def test_migrating_keeps_every_row_and_leaves_a_copy(tmp_path):
    """source: sqlalchemy/alembic#884; tracim/tracim#3123; Soju06/codex-lb#1930; sqlalchemy/alembic#896"""
    path = tmp_path / "old.db"
    store = Store.open(f"sqlite:///{path}")
    house = House(store, now=WEDNESDAY)
    for number in range(1, 4):
        house.says(f"Rosie weighs {number} g", now=f"2026-03-0{number}T10:00")
    count = text("SELECT (SELECT count(*) FROM entry), (SELECT count(*) FROM specimen)")
    with store.writer() as connection:
        before = tuple(connection.execute(count).one())
        # made an earlier version again: without what the steps since then brought, and without their mark
        for undone in (
            "ALTER TABLE occurrence DROP COLUMN shown_in",
            "ALTER TABLE keeper DROP COLUMN round_hours",
            "ALTER TABLE keeper DROP COLUMN rounds_off_from",
            "ALTER TABLE keeper DROP COLUMN rounds_off_until",
            "ALTER TABLE specimen DROP COLUMN dish_every",
            "ALTER TABLE specimen DROP COLUMN mist_every",
            "ALTER TABLE reminder DROP COLUMN of_round",
            "DROP INDEX ix_inbox_aside_chat",
            "DROP TABLE schedule",
            "ALTER TABLE keeper DROP COLUMN delivery_weekday",
            "ALTER TABLE keeper DROP COLUMN round_days",
            "ALTER TABLE keeper DROP COLUMN quiet_until",
            "DROP TABLE news",
            "DROP TABLE handover",
            "ALTER TABLE inbox DROP COLUMN writer",
            "ALTER TABLE reminder DROP COLUMN repeats",
            "ALTER TABLE reminder DROP COLUMN from_done",
            "ALTER TABLE reminder ADD COLUMN every_days INTEGER",
        ):
            connection.execute(text(undone))
        connection.execute(text("UPDATE alembic_version SET version_num = '0003'"))
    store.close()
    again = Store.open(f"sqlite:///{path}")
    with again.look() as work:
        assert tuple(work.connection.execute(count).one()) == before
        assert migrate.revision_of(work.connection) == migrate.HEAD
        assert work.connection.execute(text("PRAGMA foreign_keys")).scalar() == 1
    again.close()
    assert [copy.name for copy in tmp_path.glob("old.db.before-*")]


def test_a_backup_is_not_restored_over_a_store_with_animals_in_it(tmp_path):
    """source: vavallee/bindery#2337"""
    store = Store.open(f"sqlite:///{tmp_path / 'one.db'}")
    house = House(store, now=WEDNESDAY)
    backup(store.url, tmp_path / "copy.db")
    house.says("fed Rosie")
    with pytest.raises(StoreError):
        restore(tmp_path / "copy.db", store.url)
    assert house.told_of() == [("T12", "fed", "2026-03-04")]
    store.close()
