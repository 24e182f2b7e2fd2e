"""A keeper who asks to be erased is, and nobody else is touched."""

from datetime import timedelta

from sqlalchemy import select

from bot.terms import KeeperSettings
from storage.erase import erase
from storage.tables import METADATA
from tests.storage.given import NOW, Shelf, entry, shelf_in
from tests.storage.test_move import all_rows, lived_in


def test_nothing_is_left_of_a_keeper_in_any_table(store):
    shelf = lived_in(store)
    with store.begin() as work:
        for one in work.inbox.waiting(5):
            work.inbox.done(one.id, at=NOW)
        erase(work, shelf.keeper.id)
    assert {name for name, rows in all_rows(store).items() if rows} == {"bookmark"}


def test_others_and_what_was_logged_for_them_stay(store):
    owner = shelf_in(store, "Birch (invented)")
    gone = lived_in(store)
    owner.add(gone.specimens()[0].specimen)
    with store.begin() as work:
        work.keepers.invite(
            owner.id, role="helper", code_hash="g", by=owner.keeper.id, expires_at=NOW + timedelta(1), at=NOW
        )
        work.keepers.redeem(
            "g", name="x", front_end="telegram", address="7", settings=KeeperSettings(), at=NOW
        )
        change = work.journal.change(owner.id, gone.keeper.id, at=NOW, origin=None)
        work.journal.log(change, [entry("fed", "A1")], zone="UTC")
    before = (owner.entries(), owner.all_facts())
    with store.begin() as work:
        erase(work, gone.keeper.id)
    assert (owner.entries(), owner.all_facts()) == before
    with store.look() as work:
        assert work.keepers.by_contact("telegram", "7") is None
        left = work.keepers.get(gone.keeper.id)
        assert (left.name, left.paused, left.next_round_at) == ("", True, None)
    assert Shelf(store, left).entries() == ()
    with store.reader() as connection:
        words = [str(row) for table in METADATA.sorted_tables for row in connection.execute(select(table))]
    assert [row for row in words if "żaba" in row or "Ash (invented)" in row] == []
