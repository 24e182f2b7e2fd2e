"""A whole shelf put in at once reads as if it had been logged entry by entry."""

from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.terms import KeeperSettings
from storage import Store
from storage.bulk import fill
from storage.errors import NotOnShelfError, TagTakenError
from tests.storage.given import NOW, TODAY, Shelf, entry, shelf_in, specimen
from tests.storage.test_state_is_a_fold import TAGS, entries


def filled(store, specimens, logged, **more):
    with store.begin() as work:
        keeper = work.keepers.create("Ash (invented)", KeeperSettings(), at=NOW)
        change = fill(work, keeper.shelf_id, keeper.id, specimens, logged, at=NOW, zone="UTC", **more)
    return Shelf(store, keeper), change


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(logged=st.lists(entries, max_size=15))
def test_filling_comes_to_the_same_as_logging(logged):
    store = Store.open("sqlite://")
    specimens = [specimen(tag, lot_size=4) for tag in TAGS]
    at_once, _ = filled(store, specimens, logged, added_on=dict.fromkeys(TAGS, date(2026, 1, 1)))
    one_by_one = shelf_in(store)
    one_by_one.add(*specimens)
    for one in logged:
        one_by_one.log(one)
    assert at_once.all_facts() == one_by_one.all_facts()
    assert [one.entry for one in at_once.entries()] == [one.entry for one in one_by_one.entries()]
    store.close()


def test_a_specimen_came_on_the_day_said_or_of_its_first_entry_or_today(store):
    week = timedelta(days=7)
    shelf, _ = filled(
        store,
        [specimen("A1"), specimen("A2"), specimen("A3")],
        [entry("fed", "A1", "A2"), entry("fed", "a2", day=TODAY - week)],
        added_on={"a1": TODAY - 2 * week},
    )
    assert [one.added_on for one in shelf.specimens()] == [TODAY - 2 * week, TODAY - week, TODAY]


def test_a_filling_is_one_change_and_can_be_undone(store):
    shelf, change = filled(store, [specimen("A1")], [entry("fed", "A1"), entry("climate", temp_c="24")])
    assert len(shelf.entries()) == 2
    shelf.undo(change)
    assert (shelf.entries(), shelf.specimens()) == ((), ())
    shelf.redo(change)
    assert len(shelf.entries()) == 2


def test_entries_alone_may_be_filled_in_for_those_who_are_there(shelf):
    shelf.log(entry("refused", "A1"))
    with shelf.store.begin() as work:
        fill(work, shelf.id, shelf.keeper.id, [], [entry("refused", "A1")], at=NOW, zone="UTC")
    assert shelf.facts("A1").state.refusals == 2


@pytest.mark.parametrize(
    ("specimens", "logged", "refusal"),
    [
        ([specimen("N1")], [entry("fed", "N1"), entry("fed", "Z9")], NotOnShelfError),
        ([specimen("N1"), specimen("A1")], [], TagTakenError),
    ],
)
def test_a_filling_with_a_fault_leaves_nothing(shelf, specimens, logged, refusal):
    with pytest.raises(refusal), shelf.store.begin() as work:
        fill(work, shelf.id, shelf.keeper.id, specimens, logged, at=NOW, zone="UTC")
    assert len(shelf.specimens()) == 3
    assert shelf.entries() == ()
