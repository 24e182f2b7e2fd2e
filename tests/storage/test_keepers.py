"""Keepers: their settings, contacts, invites, and when their round falls due."""

from datetime import timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.terms import DateOrder, KeeperSettings, Units
from storage.errors import AddressTakenError, NotOnShelfError
from storage.records import Contact, Role
from tests.storage.given import NOW, TODAY, shelf_in

HOUR = timedelta(hours=1)
any_time = st.times().map(lambda moment: moment.replace(tzinfo=None))
any_settings = st.builds(
    KeeperSettings,
    zone=st.sampled_from(["UTC", "America/Los_Angeles", "Pacific/Apia"]),
    units=st.sampled_from(Units),
    date_order=st.sampled_from(DateOrder),
    round_time=any_time,
    quiet_from=any_time,
    quiet_to=any_time,
    day_starts=any_time,
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(first=any_settings, then=any_settings)
def test_any_settings_are_read_back_as_they_were_saved(store, first, then):
    with store.begin() as work:
        keeper = work.keepers.create("Ash (invented)", first, at=NOW)
        assert work.keepers.get(keeper.id) == keeper
        assert keeper.settings == first
        work.keepers.save_settings(keeper.id, then)
        assert work.keepers.get(keeper.id).settings == then


def test_a_new_keeper_is_unsettled_and_not_paused_and_owns_a_shelf(store):
    keeper = shelf_in(store).keeper
    assert (keeper.settled, keeper.paused, keeper.next_round_at) == (False, False, None)
    with store.begin() as work:
        work.keepers.mark_settled(keeper.id)
        work.keepers.pause(keeper.id)
        assert (work.keepers.get(keeper.id).settled, work.keepers.get(keeper.id).paused) == (True, True)
        work.keepers.resume(keeper.id)
        assert not work.keepers.get(keeper.id).paused
        with pytest.raises(NotOnShelfError):
            work.keepers.get(10_000)


def test_a_keeper_is_found_by_an_address_which_only_one_may_have(store):
    one, other = shelf_in(store).keeper, shelf_in(store, "Birch (invented)").keeper
    with store.begin() as work:
        work.keepers.link(one.id, "telegram", "7")
        work.keepers.link(one.id, "terminal", "7")
        assert work.keepers.by_contact("telegram", "7") == one
        assert work.keepers.by_contact("telegram", "8") is None
        assert work.keepers.contacts(one.id) == (
            Contact(front_end="telegram", address="7"),
            Contact(front_end="terminal", address="7"),
        )
        work.keepers.link(one.id, "telegram", "7")
        with pytest.raises(AddressTakenError):
            work.keepers.link(other.id, "telegram", "7")
        assert work.keepers.contacts(other.id) == ()


def test_rounds_fall_due_in_the_order_of_their_moments_and_not_for_the_paused(store):
    early, late, paused, never, future = (shelf_in(store, f"keeper {n}").keeper for n in range(5))
    with store.begin() as work:
        for keeper, at in ((late, NOW), (early, NOW - HOUR), (paused, NOW - HOUR), (future, NOW + HOUR)):
            work.keepers.set_next_round(keeper.id, at)
        work.keepers.pause(paused.id)

        def due(**asked):
            return [one.id for one in work.keepers.due_for_round(**{"now": NOW, "limit": 10} | asked)]

        assert due() == [early.id, late.id]
        assert due(limit=1) == [early.id]
        work.keepers.set_next_round(early.id, None)
        assert due() == [late.id]
        assert work.keepers.get(late.id).next_round_at == NOW
        assert never.id not in due(now=NOW + timedelta(days=900))


def invite(work, shelf, code="h1", *, shelf_id=None, lasts=HOUR, role=Role.PARTNER):
    work.keepers.invite(
        shelf_id, role=role, code_hash=code, by=shelf.keeper.id, expires_at=NOW + lasts, at=NOW
    )


def redeem(work, code="h1", *, address="8", at=NOW):
    return work.keepers.redeem(
        code, name="Birch", front_end="telegram", address=address, settings=KeeperSettings(), at=at
    )


def test_an_invite_lets_one_person_in_once(shelf):
    with shelf.store.begin() as work:
        invite(work, shelf, shelf_id=shelf.id)
        guest = redeem(work)
        assert work.keepers.by_contact("telegram", "8") == guest
        assert (shelf.id, Role.PARTNER) in [(m.shelf_id, m.role) for m in work.shelves.of(guest.id, on=TODAY)]
        assert redeem(work, address="9") is None
        assert work.keepers.by_contact("telegram", "9") is None


@pytest.mark.parametrize(("code", "at"), [("h1", NOW + HOUR), ("h1", NOW + 2 * HOUR), ("h2", NOW)])
def test_an_expired_or_unknown_code_lets_nobody_in(shelf, code, at):
    with shelf.store.begin() as work:
        invite(work, shelf, shelf_id=shelf.id)
        assert redeem(work, code, at=at) is None
        assert work.keepers.by_contact("telegram", "8") is None


def test_an_invite_without_a_shelf_gives_one_of_one_s_own(shelf):
    with shelf.store.begin() as work:
        invite(work, shelf, role=Role.OWNER)
        guest = redeem(work)
        assert [m.shelf_id for m in work.shelves.of(guest.id, on=TODAY)] == [guest.shelf_id]
        assert guest.shelf_id != shelf.id


def test_an_invite_for_a_period_opens_the_shelf_within_it_only(shelf):
    week = timedelta(days=7)
    with shelf.store.begin() as work:
        work.keepers.invite(
            shelf.id,
            role=Role.HELPER,
            code_hash="h1",
            by=shelf.keeper.id,
            expires_at=NOW + HOUR,
            at=NOW,
            from_day=TODAY + week,
            until_day=TODAY + 2 * week,
        )
        guest = redeem(work)

        def sees(day):
            return shelf.id in [m.shelf_id for m in work.shelves.of(guest.id, on=day)]

        seen = {days: sees(TODAY + timedelta(days=days)) for days in (0, 6, 7, 14, 15)}
        assert seen == {0: False, 6: False, 7: True, 14: True, 15: False}
        invite(work, shelf, "h2", shelf_id=shelf.id)
        assert redeem(work, "h2") == guest
        assert sees(TODAY)


def test_keepers_are_listed_some_at_a_time_without_the_paused(store):
    keepers = [shelf_in(store, f"keeper {n}").keeper for n in range(4)]
    with store.begin() as work:
        work.keepers.pause(keepers[1].id)
        first = work.keepers.active(limit=2)
        assert [one.id for one in first] == [keepers[0].id, keepers[2].id]
        assert [one.id for one in work.keepers.active(after=first[-1].id, limit=2)] == [keepers[3].id]


def test_one_who_is_on_the_shelf_already_does_not_use_the_code_up(shelf):
    with shelf.store.begin() as work:
        work.keepers.link(shelf.keeper.id, "telegram", "7")
        invite(work, shelf, shelf_id=shelf.id)
        assert redeem(work, address="7") == shelf.keeper
        assert redeem(work, address="8").name == "Birch"


def test_a_chat_that_moves_takes_everything_with_it(shelf):
    keeper = shelf.keeper
    with shelf.store.begin() as work:
        work.keepers.link(keeper.id, "telegram", "-5")
        work.dialogs.set(keeper.id, "-5", {"of": "A1"})
        work.dialogs.set(keeper.id, "-100", {"of": "stale"})
        number = work.prompts.put(keeper.id, chat="-5", actions=[], pending=None, change_id=None, at=NOW)
        work.inbox.put("telegram", 1, chat="-5", payload={}, at=NOW)
        waiting = work.outbox.put(keeper_id=keeper.id, chat="-5", method="say", payload={}, at=NOW)
        sent = work.outbox.put(keeper_id=keeper.id, chat="-5", method="say", payload={}, at=NOW)
        work.outbox.sent(sent, message_ref="1", at=NOW)
        work.keepers.readdress("telegram", "-5", "-100")
    with shelf.store.look() as work:
        assert work.keepers.by_contact("telegram", "-100").id == keeper.id
        assert work.keepers.by_contact("telegram", "-5") is None
        assert work.dialogs.get(keeper.id, "-100") == {"of": "A1"}
        assert work.dialogs.get(keeper.id, "-5") == {}
        assert work.prompts.get(number).chat == "-100"
        assert [one.chat for one in work.inbox.waiting(5)] == ["-100"]
        assert [(one.id, one.chat) for one in work.outbox.waiting(NOW, 5)] == [(waiting, "-100")]


def test_a_chat_that_moves_to_an_address_known_already_leaves_that_address_to_its_keeper(store):
    one, other = shelf_in(store).keeper, shelf_in(store, "Birch (invented)").keeper
    with store.begin() as work:
        work.keepers.link(one.id, "telegram", "-5")
        work.keepers.link(other.id, "telegram", "-100")
        for _ in range(2):
            work.keepers.readdress("telegram", "-5", "-100")
            assert work.keepers.by_contact("telegram", "-100").id == other.id
            assert work.keepers.contacts(one.id) == ()
