"""Undo voids all that a change did, redo brings it back; each is the other's mirror."""

from datetime import date, timedelta

import pytest

from bot.terms import Sex, Stage
from bot.terms.schedule import EVERYONE, Care, Group, Scope, SlowMonths
from storage.errors import NotOnShelfError, TagTakenError
from storage.records import Hold
from tests.storage.given import NOW, TODAY, entry, shelf_in, specimen

SLINGS = Group(Scope.STAGE, "sling")
YESTERDAY = TODAY - timedelta(days=1)


def everything(shelf):
    """All that a change may alter, as it reads now."""
    with shelf.store.look() as work:
        return {
            "entries": work.journal.entries(shelf.id),
            "facts": work.shelves.facts(shelf.id),
            "specimens": work.shelves.specimens(shelf.id),
            "gone": work.shelves.specimens(shelf.id, gone=True),
            "holds": work.holds.current(shelf.id),
            "schedule": work.schedules.current(shelf.id),
            "reminders": work.reminders.open(shelf.id),
            "photos": work.photos.of(shelf.id, None),
        }


def log_many(work, change, shelf):
    work.journal.log(change, [entry("fed", "A1", "A2"), entry("climate", temp_c="24")], zone="UTC")


def replace_one(work, change, shelf):
    old = [one.id for one in work.journal.entries(shelf.id, tags=["A1"])]
    work.journal.replace(change, old, [entry("refused", "A1", day=YESTERDAY)], zone="UTC")


def add_and_log(work, change, shelf):
    work.shelves.add(change, specimen("C1", stage=Stage.SLING), on=TODAY)
    work.journal.log(change, [entry("fed", "C1")], zone="UTC")


def alter_names(work, change, shelf):
    work.shelves.alter(change, "A1", name="Onyx", tag="C7", place="Rack 2", aka=("Smith",), sex=Sex.FEMALE)
    work.shelves.alter(change, "C7", position=1, feed_every=14)


def trade_tags(work, change, shelf):
    work.shelves.alter(change, "A1", tag="spare")
    work.shelves.alter(change, "A2", tag="A1")
    work.shelves.alter(change, "spare", tag="A2")


def hold_and_remind(work, change, shelf):
    work.holds.set(change, ["A1"], since=TODAY, until=None)
    work.holds.end(change, ["A2"], on=TODAY)
    work.reminders.add(
        change, what="look", tags=["A1"], next_at=NOW, day=TODAY, time=None, repeats=None, zone="UTC"
    )
    work.photos.add(change, "A1", reference="abc", path=None, at=NOW)


def say_how_often(work, change, shelf):
    work.schedules.set(change, Care.FEED, SLINGS, 4)
    work.schedules.set(change, Care.WATER, EVERYONE, None)
    work.schedules.set_slow(change, None)


def lose_one(work, change, shelf):
    work.journal.log(change, [entry("died", "A1"), entry("left", "B1", count=4)], zone="UTC")


DEEDS = [
    log_many,
    replace_one,
    add_and_log,
    alter_names,
    trade_tags,
    hold_and_remind,
    say_how_often,
    lose_one,
]


@pytest.fixture
def lived_in(shelf):
    shelf.log(entry("fed", "A1", "A2", "B1", day=YESTERDAY), entry("sealed", "A2", day=YESTERDAY))
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        work.holds.set(change, ["A2"], since=YESTERDAY, until=None)
        work.schedules.set(change, Care.WATER, EVERYONE, 5)
        work.schedules.set_slow(change, SlowMonths(11, 2))
    return shelf


@pytest.mark.parametrize("deed", DEEDS)
def test_undo_and_redo_are_mirrors_of_each_other(lived_in, deed):
    shelf = lived_in
    before = everything(shelf)
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        deed(work, change, shelf)
    after = everything(shelf)
    assert after != before
    for _ in range(2):
        assert shelf.undo(change)
        assert everything(shelf) == before
        assert shelf.redo(change)
        assert everything(shelf) == after


def test_a_second_undo_or_redo_does_nothing_and_says_so(shelf):
    change = shelf.log(entry("fed", "A1"))
    assert not shelf.redo(change)
    assert shelf.undo(change)
    assert not shelf.undo(change)
    assert shelf.entries() == ()
    assert shelf.redo(change)
    assert not shelf.redo(change)
    assert len(shelf.entries()) == 1


def test_an_unknown_change_cannot_be_undone(shelf):
    with pytest.raises(NotOnShelfError):
        shelf.undo(10_000)


def test_the_latest_change_is_the_keeper_s_own_and_not_undone(shelf):
    first = shelf.log(entry("fed", "A1"))
    second = shelf.log(entry("fed", "A2"))

    def latest(shelf_id=shelf.id, keeper_id=shelf.keeper.id):
        with shelf.store.look() as work:
            found = work.journal.latest_change(shelf_id, keeper_id)
        return found and found.id

    other = shelf_in(shelf.store, "Birch (invented)")
    assert latest() == second
    assert latest(keeper_id=other.keeper.id) is None
    shelf.undo(second)
    assert latest() == first
    with shelf.store.look() as work:
        assert work.journal.get_change(second).undone_at == NOW
    shelf.redo(second)
    assert latest() == second


def test_undoing_the_first_of_two_replacements_leaves_the_second_in_force(shelf):
    shelf.log(entry("fed", "A1", count=1))
    (old,) = shelf.entries()
    first = shelf.replace([old.id], entry("fed", "A1", count=2))
    second = shelf.replace([old.id], entry("fed", "A1", count=3))
    shelf.undo(first)
    assert [one.entry.count for one in shelf.entries()] == [3]
    shelf.undo(second)
    assert [one.entry.count for one in shelf.entries()] == [1]


def test_an_entry_undone_stays_void_when_its_replacement_is_undone(shelf):
    logged = shelf.log(entry("fed", "A1"))
    replaced = shelf.replace([shelf.entries()[0].id], entry("refused", "A1"))
    shelf.undo(logged)
    shelf.undo(replaced)
    assert shelf.entries() == ()
    shelf.redo(logged)
    assert [one.entry.kind for one in shelf.entries()] == ["fed"]


def test_an_undone_death_does_not_bring_an_animal_back_under_a_tag_given_away(shelf):
    died = shelf.log(entry("died", "A1"))
    shelf.add(specimen("a1", name="Successor"))
    before = everything(shelf)
    with pytest.raises(TagTakenError, match="a1 is taken"):
        shelf.undo(died)
    assert everything(shelf) == before


def test_a_refusal_caught_within_the_transaction_leaves_nothing_half_done(shelf):
    died = shelf.log(entry("died", "A1"))
    shelf.add(specimen("A1", name="Successor"))
    before = everything(shelf)
    with shelf.store.begin() as work, pytest.raises(TagTakenError):
        work.journal.undo(died, at=NOW)
    assert everything(shelf) == before
    with shelf.store.look() as work:
        assert work.journal.get_change(died).undone_at is None


def test_the_entries_of_a_specimen_whose_adding_is_undone_are_out_of_sight(shelf):
    added = shelf.add(specimen("C1"))
    shelf.log(entry("fed", "C1"))
    shelf.undo(added)
    assert shelf.entries() == ()
    assert shelf.facts("C1") is None
    shelf.redo(added)
    assert len(shelf.entries()) == 1
    assert shelf.facts("C1").state.last_fed == TODAY


def test_nothing_can_be_said_of_a_specimen_whose_adding_is_undone_and_its_tag_is_free(shelf):
    added = shelf.add(specimen("C1", name="First"))
    shelf.undo(added)
    for attempt in (lambda: shelf.log(entry("fed", "C1")), lambda: shelf.alter("C1", name="Onyx")):
        with pytest.raises(NotOnShelfError):
            attempt()
    shelf.add(specimen("C1", name="Second"))
    shelf.log(entry("fed", "C1"))
    assert shelf.facts("C1").specimen.name == "Second"
    with pytest.raises(TagTakenError):
        shelf.redo(added)


def test_the_keeper_s_latest_word_on_sex_stands(shelf):
    shelf.log(entry("sexed", "A1", sex="male", day=date(2026, 2, 1)))
    altered = shelf.alter("A1", sex=Sex.FEMALE)
    assert shelf.facts("A1").specimen.sex is Sex.FEMALE
    shelf.log(entry("sexed", "A1", sex="male", day=date(2026, 1, 1)))
    assert shelf.facts("A1").specimen.sex is shelf.facts("A1").state.sex is Sex.MALE
    shelf.undo(altered)
    assert shelf.facts("A1").specimen.sex is Sex.MALE


def test_the_later_of_two_holds_stands_and_its_end_ends_it(shelf):
    def say(deed, **when):
        with shelf.store.begin() as work:
            change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
            getattr(work.holds, deed)(change, ["A1"], **when)
            return change

    def current():
        with shelf.store.look() as work:
            return work.holds.current(shelf.id)

    say("set", since=YESTERDAY, until=None)
    later = say("set", since=TODAY, until=date(2026, 6, 1))
    assert current() == {"A1": Hold(since=TODAY, until=date(2026, 6, 1))}
    assert shelf.facts("A1").held_until == date(2026, 6, 1)
    shelf.undo(later)
    assert current() == {"A1": Hold(since=YESTERDAY, until=None)}
    ended = say("end", on=TODAY)
    assert current() == {}
    assert shelf.facts("A1").held_since is None
    shelf.undo(ended)
    assert current() == {"A1": Hold(since=YESTERDAY, until=None)}
