"""Every query that grows with the store is answered from an index: no table is read through."""

import re
from datetime import timedelta

import pytest
from sqlalchemy import event, text

from bot.terms import KeeperSettings, Kind
from storage import Store
from storage.bulk import fill
from tests.storage.given import NOW, TODAY, Shelf, entry, specimen


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shelf(request):
    url = "sqlite://" if request.param == "sqlite" else request.getfixturevalue("server").cleared()
    store = Store.open(url)
    with store.begin() as work:
        keeper = work.keepers.create("Ash (invented)", KeeperSettings(), at=NOW)
        work.keepers.link(keeper.id, "telegram", "7")
        tags = [f"T{number}" for number in range(40)]
        logged = [entry("fed", tag, day=TODAY - timedelta(days=n)) for tag in tags for n in range(20)]
        fill(work, keeper.shelf_id, keeper.id, [specimen(tag) for tag in tags], logged, at=NOW, zone="UTC")
    yield Shelf(store, keeper)
    store.close()


WEEK = {"since": TODAY - timedelta(days=7), "until": TODAY}
READS = {
    "keeper by contact": lambda work, shelf: work.keepers.by_contact("telegram", "7"),
    "keepers due for their round": lambda work, shelf: work.keepers.due_for_round(NOW, 10),
    "keepers planned far ahead": lambda work, shelf: work.keepers.planned_after(NOW),
    "contacts of a keeper": lambda work, shelf: work.keepers.contacts(shelf.keeper.id),
    "an unknown invite": lambda work, shelf: work.keepers.redeem(
        "h", name="x", front_end="telegram", address="9", settings=KeeperSettings(), at=NOW
    ),
    "a chat moves": lambda work, shelf: work.keepers.readdress("telegram", "7", "8"),
    "shelves of a keeper": lambda work, shelf: work.shelves.of(shelf.keeper.id, on=TODAY),
    "revision": lambda work, shelf: work.shelves.revision(shelf.id),
    "specimens": lambda work, shelf: work.shelves.specimens(shelf.id),
    "specimens gone": lambda work, shelf: work.shelves.specimens(shelf.id, gone=True),
    "facts": lambda work, shelf: work.shelves.facts(shelf.id),
    "facts of one": lambda work, shelf: work.shelves.facts(shelf.id, tags=["T1"]),
    "places": lambda work, shelf: work.shelves.places(shelf.id),
    "entries": lambda work, shelf: work.journal.entries(shelf.id, limit=20),
    "entries of a week": lambda work, shelf: work.journal.entries(shelf.id, **WEEK),
    "entries of a kind": lambda work, shelf: work.journal.entries(shelf.id, kinds=[Kind.STOCKED]),
    "entries of a tag": lambda work, shelf: work.journal.entries(shelf.id, tags=["T1"], limit=20),
    "last": lambda work, shelf: work.journal.last(shelf.id, "T1", [Kind.FED]),
    "entries of a change": lambda work, shelf: work.journal.entries_of(1),
    "latest change": lambda work, shelf: work.journal.latest_change(shelf.id, shelf.keeper.id),
    "change of a message": lambda work, shelf: work.journal.change_of(shelf.id, "telegram:7:1"),
    "undo": lambda work, shelf: work.journal.undo(1, at=NOW),
    "schedules": lambda work, shelf: work.schedules.current(shelf.id),
    "holds": lambda work, shelf: work.holds.current(shelf.id),
    "reminders of a shelf": lambda work, shelf: work.reminders.open(shelf.id),
    "second looks": lambda work, shelf: work.reminders.second_looks(shelf.id, shelf.keeper.id),
    "reminders due": lambda work, shelf: work.reminders.due(NOW, 10),
    "round of a day": lambda work, shelf: work.rounds.of_day(shelf.keeper.id, TODAY),
    "latest round": lambda work, shelf: work.rounds.latest(shelf.keeper.id),
    "prompt": lambda work, shelf: work.prompts.get(1),
    "prompt of a message": lambda work, shelf: work.prompts.by_message(shelf.keeper.id, "7", "1"),
    "latest prompt": lambda work, shelf: work.prompts.latest(shelf.keeper.id, "7"),
    "dialog": lambda work, shelf: work.dialogs.get(shelf.keeper.id, "7"),
    "inbox": lambda work, shelf: work.inbox.waiting(10),
    "updates set aside of a chat": lambda work, shelf: work.inbox.aside_in("7", most=10),
    "outbox": lambda work, shelf: work.outbox.waiting(NOW, 10),
    "claim of the outbox": lambda work, shelf: work.outbox.claim(NOW, 10),
    "put off": lambda work, shelf: work.outbox.later(1, NOW, "asked to wait"),
    "photos of one": lambda work, shelf: work.photos.of(shelf.id, "T1"),
    "bookmark": lambda work, shelf: work.bookmarks.get("telegram"),
    "keepers by number": lambda work, shelf: work.keepers.active(after=3, limit=10),
    "photos": lambda work, shelf: work.photos.of(shelf.id, None),
}


#: SQLite reads a table through; an index of what waits, and of nothing else, is there to be read through, and
#: so is what another part of the query found.
SQLITE_READS_THROUGH = re.compile(r"\bSCAN (?!anon_\d|\w+ USING (COVERING )?INDEX ix_\w+_waiting)")
#: PostgreSQL does, though told to do so only where it cannot do otherwise.
POSTGRESQL_READS_THROUGH = re.compile("Seq Scan on")


def steps_on_sqlite(driver, queries):
    plans = [driver.execute(f"EXPLAIN QUERY PLAN {query}", values) for query, values in queries]
    return [step[3] for plan in plans for step in plan]


def steps_on_postgresql(driver, queries):
    plans = [driver.execute(f"EXPLAIN {query}", values).fetchall() for query, values in queries]
    return [step[0] for plan in plans for step in plan]


@pytest.mark.parametrize("read", READS)
def test_no_table_is_read_through_for(shelf, read):
    asked = []

    def note(_connection, _cursor, query, values, _context, many):
        asked.append((query, values[0] if many else values))

    engine = shelf.store.engine
    on_sqlite = engine.dialect.name == "sqlite"
    event.listen(engine, "before_cursor_execute", note)
    try:
        with shelf.store.look() as work:  # a look keeps nothing of what it writes
            if not on_sqlite:
                work.connection.execute(text("SET LOCAL enable_seqscan = off"))
            READS[read](work, shelf)
            queries = [one for one in asked if re.match("SELECT|UPDATE|DELETE", one[0])]
            driver = work.connection.connection.dbapi_connection
            steps = (steps_on_sqlite if on_sqlite else steps_on_postgresql)(driver, queries)
    finally:
        event.remove(engine, "before_cursor_execute", note)
    assert steps
    reads_through = SQLITE_READS_THROUGH if on_sqlite else POSTGRESQL_READS_THROUGH
    assert [step for step in steps if reads_through.search(step)] == []
