"""News: each change is told once to each of the others, and to nobody else."""

from __future__ import annotations

from datetime import timedelta

from bot.terms import KeeperSettings
from storage.erase import erase
from storage.records import Role
from tests.storage.given import NOW, TODAY, entry, shelf_in


def shared(work, shelf, role=Role.PARTNER, name="Birch (invented)"):
    """Somebody else who is on the shelf from now on."""
    work.keepers.invite(
        shelf.id, role=role, code_hash=name, by=shelf.keeper.id, expires_at=NOW + timedelta(days=1), at=NOW
    )
    return work.keepers.redeem(
        name, name=name, front_end="tests", address=name, settings=KeeperSettings(), at=NOW
    )


def test_the_others_of_a_shelf_are_its_other_keepers_and_no_helpers(shelf):
    stranger = shelf_in(shelf.store, "Elm (invented)").keeper
    with shelf.store.begin() as work:
        partner = shared(work, shelf)
        shared(work, shelf, Role.HELPER, "Cedar (invented)")
        assert work.news.others(shelf.id, shelf.keeper.id, on=TODAY) == (partner.id,)
        assert work.news.others(shelf.id, partner.id, on=TODAY) == (shelf.keeper.id,)
        assert work.news.others(stranger.shelf_id, stranger.id, on=TODAY) == ()


def test_news_wait_for_their_time_and_are_told_once(shelf):
    change = shelf.log(entry("fed", "A1"))
    with shelf.store.begin() as work:
        partner = shared(work, shelf)
        work.news.add([partner.id], shelf.id, [change], at=NOW, due_at=NOW + timedelta(minutes=5))
        assert work.news.due(NOW, 5) == ()
        assert work.news.due(NOW + timedelta(minutes=5), 5) == (partner.id,)
        (row,) = work.news.waiting(partner.id)
        assert (row.shelf_id, row.change_id, row.at) == (shelf.id, change, NOW)
        assert not work.news.was_told(partner.id, change)
        work.news.told([row.id], at=NOW)
        assert work.news.was_told(partner.id, change)
        assert work.news.due(NOW + timedelta(days=1), 5) == ()
        assert work.news.waiting(partner.id) == ()


def test_news_put_off_wait_until_then_and_news_for_the_paused_wait_until_they_are_back(shelf):
    change, later = shelf.log(entry("fed", "A1")), NOW + timedelta(hours=9)
    with shelf.store.begin() as work:
        partner = shared(work, shelf)
        work.news.add([partner.id], shelf.id, [change], at=NOW, due_at=NOW)
        work.news.later(partner.id, later)
        assert work.news.due(NOW + timedelta(hours=8), 5) == ()
        work.keepers.pause(partner.id)
        assert work.news.due(later, 5) == ()
        work.keepers.resume(partner.id)
        assert work.news.due(later, 5) == (partner.id,)


def test_what_a_change_put_others_in_the_place_of_is_known(shelf):
    first = shelf.log(entry("fed", "A1"))
    with shelf.store.begin() as work:
        (old,) = work.journal.entries_of(first)
        second = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        work.journal.replace(second, [old.id], [entry("fed", "A2")], zone="UTC")
        assert work.journal.made == [second]
        assert [row.id for row in work.journal.replaced_by(second)] == [old.id]
        assert work.journal.replaced_by(first) == ()


def test_a_keeper_with_news_can_be_erased(shelf):
    change = shelf.log(entry("fed", "A1"))
    with shelf.store.begin() as work:
        partner = shared(work, shelf)
        work.news.add([partner.id], shelf.id, [change], at=NOW, due_at=NOW)
        erase(work, partner.id)
        assert work.news.due(NOW, 5) == ()
        erase(work, shelf.keeper.id)
