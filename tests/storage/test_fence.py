"""The second fence between keepers: PostgreSQL itself shows a fenced transaction one keeper's rows only.

Checked against PostgreSQL's own account of its tables (``pg_class``, ``pg_policies``), and by reading every
table in plain SQL, without a condition, from within the fence.
"""

from datetime import timedelta

import pytest
from sqlalchemy import create_engine, delete, func, insert, select, text, update
from sqlalchemy.exc import ProgrammingError

from bot.terms import KeeperSettings
from bot.terms.schedule import Care, Group, Scope
from storage import Store
from storage import tables as t
from storage.fence import is_bypassed
from storage.tables import METADATA
from tests.storage.given import NOW, TODAY, Shelf, entry, shelf_in, specimen
from tests.storage.test_move import all_rows, lived_in

THEIRS = "Theirword"


@pytest.fixture
def two(server_url):
    """My shelf with rows in every table, and a neighbour's whose every text says so."""
    store = Store.open(server_url)
    mine = lived_in(store)
    theirs = shelf_in(store, THEIRS)
    theirs.add(specimen("A1", name=THEIRS, place=THEIRS))
    theirs.log(entry("note", "A1", note=THEIRS))
    theirs.replace([theirs.entries()[0].id], entry("note", "A1", note=THEIRS))
    changed = theirs.alter("A1", name=f"{THEIRS}s")
    with store.begin() as work:
        work.keepers.link(theirs.keeper.id, "telegram", "8")
        work.keepers.invite(
            theirs.id, role="helper", code_hash=THEIRS, by=theirs.keeper.id, expires_at=NOW, at=NOW
        )
        work.handovers.begin(
            theirs.id,
            by=theirs.keeper.id,
            called=THEIRS,
            first=TODAY,
            last=TODAY,
            code_hash=f"{THEIRS}s",
            expires_at=NOW,
            at=NOW,
        )
        work.news.add([theirs.keeper.id], theirs.id, [changed], at=NOW, due_at=NOW)
        work.holds.set(changed, ["A1"], since=TODAY, until=None)
        work.schedules.set(changed, Care.FEED, Group(Scope.SPECIES, THEIRS), 3)
        work.reminders.add(
            changed, what=THEIRS, tags=["A1"], next_at=NOW, day=TODAY, time=None, repeats=None, zone="UTC"
        )
        work.photos.add(changed, "A1", reference=THEIRS, path=None, at=NOW)
        work.rounds.open_(theirs.keeper.id, theirs.id, TODAY, due_at=NOW, tasks=[{"tag": THEIRS}], at=NOW)
        work.prompts.put(
            theirs.keeper.id, chat="8", actions=[{"x": THEIRS}], pending=None, change_id=None, at=NOW
        )
        work.dialogs.set(theirs.keeper.id, "8", {"of": THEIRS})
        work.inbox.put("telegram", 5, chat="8", payload={"text": THEIRS}, at=NOW)
        work.outbox.put(keeper_id=theirs.keeper.id, chat="8", method="say", payload={"a": THEIRS}, at=NOW)
    yield mine, theirs
    store.close()


def counts_of(connection):
    return {
        table.name: connection.execute(select(func.count()).select_from(table)).scalar()
        for table in METADATA.sorted_tables
    }


def test_every_table_is_fenced_for_its_owner_too(two):
    with two[0].store.reader() as connection:
        forced = connection.execute(
            text("SELECT relname FROM pg_class WHERE relrowsecurity AND relforcerowsecurity")
        ).scalars()
        policies = connection.execute(text("SELECT tablename FROM pg_policies")).scalars()
        tables = {table.name for table in METADATA.sorted_tables}
        assert set(forced) == set(policies) == tables


def test_within_the_fence_every_table_shows_what_is_mine_and_nothing_of_the_neighbour(two):
    mine, _ = two
    everything = all_rows(mine.store)
    with mine.store.look() as work:
        with work.fenced(mine.keeper.id, TODAY):
            seen = {
                table.name: work.connection.execute(select(table)).all() for table in METADATA.sorted_tables
            }
        assert counts_of(work.connection) == {name: len(rows) for name, rows in everything.items()}
    assert [name for name, rows in seen.items() if THEIRS in str(rows)] == []
    assert {name for name, rows in seen.items() if not rows} == {"inbox", "bookmark"}
    for name, rows in seen.items():
        if "shelf_id" in METADATA.tables[name].c:
            assert {row.shelf_id for row in rows} == {mine.id}, name
        if name not in {"inbox", "bookmark"}:
            assert len(rows) < len(everything[name]), name


def test_what_the_neighbour_has_is_neither_changed_nor_deleted_nor_added_to(two):
    mine, theirs = two
    before = all_rows(mine.store)
    with mine.store.begin() as work, work.fenced(mine.keeper.id, TODAY):
        db = work.connection
        assert (
            db.execute(update(t.specimen).where(t.specimen.c.shelf_id == theirs.id).values(tag="X")).rowcount
            == 0
        )
        assert (
            db.execute(update(t.keeper).where(t.keeper.c.id == theirs.keeper.id).values(name="X")).rowcount
            == 0
        )
        assert db.execute(delete(t.dialog).where(t.dialog.c.keeper_id == theirs.keeper.id)).rowcount == 0
        assert db.execute(delete(t.inbox)).rowcount == 0
    assert all_rows(mine.store) == before
    for table, values in (
        (t.place, {"shelf_id": theirs.id, "name": "X", "key": "x"}),
        (t.dialog, {"keeper_id": theirs.keeper.id, "chat": "x", "mind": {}}),
        (t.membership, {"keeper_id": theirs.keeper.id, "shelf_id": theirs.id, "role": "owner"}),
    ):
        with (
            pytest.raises(ProgrammingError, match="42501"),
            mine.store.begin() as work,
            work.fenced(mine.keeper.id, TODAY),
        ):
            work.connection.execute(insert(table), values)
    assert all_rows(mine.store) == before


def test_a_fault_within_the_fence_leaves_the_next_transaction_in_service(two):
    mine, _ = two
    with pytest.raises(ZeroDivisionError), mine.store.begin() as work, work.fenced(mine.keeper.id, TODAY):
        raise ZeroDivisionError
    for _ in range(20):  # whichever connection of the pool it is
        with mine.store.look() as work:
            assert counts_of(work.connection)["keeper"] == 2


def test_a_shelf_is_seen_on_the_days_for_which_it_is_shared(two):
    mine, theirs = two
    with mine.store.begin() as work:
        work.keepers.invite(
            theirs.id,
            role="helper",
            code_hash="for a week",
            by=theirs.keeper.id,
            expires_at=NOW + timedelta(days=1),
            at=NOW,
            from_day=TODAY,
            until_day=TODAY + timedelta(days=7),
        )
        settings = KeeperSettings()
        work.keepers.redeem(
            "for a week", name="x", front_end="telegram", address="7", settings=settings, at=NOW
        )
    for days, seen in ((-2, False), (0, True), (7, True), (9, False)):
        with mine.store.look() as work, work.fenced(mine.keeper.id, TODAY + timedelta(days=days)):
            assert bool(work.shelves.specimens(theirs.id)) is seen
            assert work.keepers.name_of(theirs.keeper.id) == THEIRS  # what was logged then still says by whom


def test_buttons_of_who_shares_a_shelf_are_seen_in_a_group_and_nowhere_else(two):
    mine, theirs = two
    with mine.store.begin() as work:
        numbers = [
            work.prompts.put(theirs.keeper.id, chat=chat, actions=[], pending=None, change_id=None, at=NOW)
            for chat in ("-55", "8")
        ]
    for shared in (False, True):
        with mine.store.begin() as work:
            with work.fenced(mine.keeper.id, TODAY):
                seen = [work.prompts.get(number) is not None for number in numbers]
            assert seen == [shared, False]
            work.connection.execute(
                insert(t.membership),
                {"shelf_id": theirs.id, "keeper_id": mine.keeper.id, "role": "partner"},
            )


def test_a_connection_that_is_not_in_service_sees_nothing(two):
    engine = create_engine(two[0].store.url)
    with engine.connect() as connection:
        assert set(counts_of(connection).values()) == {0}
    engine.dispose()


def test_a_user_above_the_fence_is_told_of(two, server):
    mine, _ = two
    with mine.store.look() as work:
        assert not is_bypassed(work.connection)
    above = Store.open(server.as_superuser(mine.store.url))
    with above.look() as work:
        assert is_bypassed(work.connection)
    above.close()


def test_on_sqlite_there_is_no_fence_and_nothing_changes():
    store = Store.open("sqlite://")
    shelf = shelf_in(store)
    with store.begin() as work, work.fenced(shelf.keeper.id, TODAY), work.in_service():
        assert work.keepers.get(shelf.keeper.id).name == shelf.keeper.name
    with store.look() as work:
        assert not is_bypassed(work.connection)
    assert Shelf(store, shelf.keeper).entries() == ()
    store.close()
