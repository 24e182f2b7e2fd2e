"""Hand-overs: an invite for a period, whose rights end with it, however it ends."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from bot.terms import KeeperSettings
from storage.codes import hash_of, new_code
from storage.erase import erase
from storage.records import Role
from tests.storage.given import NOW

FIRST, LAST = date(2026, 8, 3), date(2026, 8, 14)
LATER = NOW + timedelta(days=90)
OWNERS = KeeperSettings(zone="Europe/Prague")


def begun(work, shelf, code="code"):
    return work.handovers.begin(
        shelf.id,
        by=shelf.keeper.id,
        called="my sister",
        first=FIRST,
        last=LAST,
        code_hash=hash_of(code),
        expires_at=LATER,
        at=NOW,
    )


def opened(work, code="code", address="8", at=NOW):
    return work.keepers.redeem(
        hash_of(code), name="Anna", front_end="tests", address=address, settings=KeeperSettings(), at=at
    )


def roles(work, keeper, day):
    return [m.role for m in work.shelves.of(keeper.id, on=day) if m.shelf_id != keeper.shelf_id]


def test_the_helper_of_a_hand_over_is_whoever_opened_its_invite(shelf):
    with shelf.store.begin() as work:
        handed = begun(work, shelf)
        assert (handed.helper, handed.called, handed.first, handed.last) == (None, "my sister", FIRST, LAST)
        anna = opened(work)
        assert work.handovers.get(handed.id).helper == anna.id
        assert work.handovers.of_helper(anna.id) == work.handovers.open(shelf.id)


@pytest.mark.parametrize(
    ("day", "may"),
    [
        (FIRST - timedelta(days=1), []),
        (FIRST, [Role.HELPER]),
        (LAST, [Role.HELPER]),
        (LAST + timedelta(days=1), []),
    ],
)
def test_a_helper_sees_the_shelf_within_the_period_only(shelf, day, may):
    with shelf.store.begin() as work:
        begun(work, shelf)
        assert roles(work, opened(work), day) == may


def test_a_helper_begins_with_the_owners_settings_and_is_asked_nothing(shelf):
    with shelf.store.begin() as work:
        work.keepers.save_settings(shelf.keeper.id, OWNERS)
        begun(work, shelf)
        anna = opened(work)
        assert anna.settings == OWNERS
        assert anna.settled


def test_what_ends_early_ends_the_rights_too_and_not_those_of_another_period(shelf):
    with shelf.store.begin() as work:
        begun(work, shelf)
        anna = opened(work)
        later = work.handovers.begin(
            shelf.id,
            by=shelf.keeper.id,
            called="my sister",
            first=date(2026, 9, 1),
            last=date(2026, 9, 3),
            code_hash=hash_of("september"),
            expires_at=LATER,
            at=NOW,
        )
        assert opened(work, "september").id == anna.id
        work.handovers.end(work.handovers.open(shelf.id)[0], last=date(2026, 8, 5), at=NOW)
        assert roles(work, anna, date(2026, 8, 5)) == [Role.HELPER]
        assert roles(work, anna, date(2026, 8, 6)) == []
        assert roles(work, anna, later.first) == [Role.HELPER]


def test_an_invite_that_was_replaced_or_called_off_lets_nobody_in(shelf):
    with shelf.store.begin() as work:
        handed = begun(work, shelf, "old")
        code = new_code()
        work.handovers.invite_anew(handed, code_hash=hash_of(code), expires_at=LATER, at=NOW)
        assert opened(work, "old") is None
        work.handovers.end(handed, last=FIRST - timedelta(days=1), at=NOW)
        assert opened(work, code) is None


def test_a_settled_hand_over_is_open_no_more_and_still_known(shelf):
    with shelf.store.begin() as work:
        handed = begun(work, shelf)
        work.handovers.settle(handed.id)
        assert work.handovers.open(shelf.id) == ()
        assert [one.id for one in work.handovers.of_shelf(shelf.id)] == [handed.id]


def test_only_one_who_came_by_a_helpers_invite_helps_only(shelf):
    with shelf.store.begin() as work:
        begun(work, shelf)
        keeper = work.keepers.create("Birch (invented)", KeeperSettings(), at=NOW - timedelta(days=1))
        work.keepers.link(keeper.id, "tests", "9")
        opened(work, address="9")
        assert not work.handovers.helps_only(keeper.id)
        begun(work, shelf, "another")
        assert work.handovers.helps_only(opened(work, "another", "10").id)
        assert not work.handovers.helps_only(shelf.keeper.id)


@pytest.mark.parametrize("whom", ["keeper", "helper"])
def test_a_keeper_or_a_helper_can_be_erased(shelf, whom):
    with shelf.store.begin() as work:
        begun(work, shelf)
        anna = opened(work)
        erase(work, shelf.keeper.id if whom == "keeper" else anna.id)
        assert len(work.handovers.of_shelf(shelf.id)) == (whom == "helper")


def invited(work, shelf, code, *, role, shelf_id=None):
    work.keepers.invite(
        shelf_id, role=role, code_hash=hash_of(code), by=shelf.keeper.id, expires_at=LATER, at=NOW
    )


def test_who_only_helped_keeps_a_shelf_of_their_own_by_an_invite_for_that(shelf):
    with shelf.store.begin() as work:
        begun(work, shelf)
        anna = opened(work)
        assert (work.handovers.helps_only(anna.id), anna.settled) == (True, True)
        invited(work, shelf, "own", role=Role.OWNER)
        keeps = opened(work, "own", at=NOW + timedelta(days=1))
        assert (keeps.id, keeps.settled) == (anna.id, False)  # to be asked for a zone: that was another's
        assert not work.handovers.helps_only(anna.id)
        assert opened(work, "own", address="9") is None


def test_who_keeps_a_shelf_does_not_use_up_an_invite_for_that(shelf):
    with shelf.store.begin() as work:
        invited(work, shelf, "own", role=Role.OWNER)
        invited(work, shelf, "another", role=Role.OWNER)
        anna = opened(work, "own")
        assert opened(work, "another") == anna
        assert opened(work, "another", address="9").id != anna.id


def test_who_helps_and_then_shares_the_shelf_is_its_partner_from_then_on(shelf):
    with shelf.store.begin() as work:
        begun(work, shelf)
        anna = opened(work)
        invited(work, shelf, "shared", role=Role.PARTNER, shelf_id=shelf.id)
        assert opened(work, "shared", at=NOW + timedelta(days=1)).id == anna.id
        assert not work.handovers.helps_only(anna.id)
        assert roles(work, anna, FIRST)[0] is Role.PARTNER
        assert roles(work, anna, LAST + timedelta(days=1)) == [Role.PARTNER]
