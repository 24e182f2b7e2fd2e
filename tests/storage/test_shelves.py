"""The shelf: who stands on it, in which order, as what, and who may see it."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from sqlalchemy import event

from bot.round.model import SpecimenFacts
from bot.terms import Habit, KeeperSettings, Sex, Specimen, Stage
from bot.terms.schedule import EVERYONE, NOTHING_SAID, Care, Group, Scope, SlowMonths
from storage.errors import NotOnShelfError, StoreError, TagTakenError
from storage.records import Membership, Role
from tests.storage.given import NOW, TODAY, entry, shelf_in, specimen

FULL = Specimen(
    tag="T07",
    species="Brachypelma hamorii",
    name="Żaba",
    common=("Mexican red knee",),
    aka=("the loud one", "Frog"),
    sex=Sex.FEMALE,
    stage=Stage.ADULT,
    span_cm=Decimal("12.75"),
    habit=Habit.FOSSORIAL,
    place="Rack 2",
    lot_size=1,
)


def test_a_specimen_is_read_back_as_it_was_added(store):
    shelf = shelf_in(store)
    shelf.add(FULL, on=date(2026, 2, 3))
    (stored,) = shelf.specimens()
    assert (stored.specimen, stored.added_on, stored.gone_on) == (FULL, date(2026, 2, 3), None)
    (facts,) = shelf.all_facts()
    assert facts == SpecimenFacts(specimen=FULL, state=facts.state, added_on=date(2026, 2, 3))
    assert (facts.state.sex, facts.state.stage, facts.state.span_cm) == (
        Sex.FEMALE,
        Stage.ADULT,
        Decimal("12.75"),
    )


def test_specimens_stand_in_the_order_in_which_they_were_added_or_put(shelf):
    def tags():
        return [one.specimen.tag for one in shelf.specimens()]

    assert tags() == ["A1", "A2", "B1"]
    places = {one.specimen.tag: one.position for one in shelf.specimens()}
    shelf.alter("B1", position=(places["A1"] + places["A2"]) // 2)
    assert tags() == ["A1", "B1", "A2"]
    assert [one.specimen.tag for one in shelf.all_facts()] == tags()


def test_what_the_journal_says_of_an_animal_shows_on_the_shelf(shelf):
    shelf.log(
        entry("measured", "A1", span_cm="6.5"), entry("sexed", "A1", sex="male"), entry("matured", "A1")
    )
    found = {one.specimen.tag: one.specimen for one in shelf.specimens()}["A1"]
    assert (found.span_cm, found.sex, found.stage) == (Decimal("6.5"), Sex.MALE, Stage.MATURE_MALE)


def test_an_alteration_touches_only_what_it_names(shelf):
    before = shelf.facts("A1").specimen
    shelf.alter("a1", species="Brachypelma hamorii", common=("Mexican red knee",), habit=Habit.FOSSORIAL)
    after = shelf.facts("A1").specimen
    assert (after.species, after.common, after.habit) == (
        "Brachypelma hamorii",
        ("Mexican red knee",),
        Habit.FOSSORIAL,
    )
    assert (after.name, after.tag, after.place, after.stage) == ("Anvil", "A1", "Shelf A", before.stage)


def test_a_new_tag_takes_the_journal_with_it(shelf):
    shelf.log(entry("fed", "A1"))
    shelf.alter("A1", tag="C9")
    assert [one.entry.specimens for one in shelf.entries(tags=["C9"])] == [("C9",)]
    with pytest.raises(NotOnShelfError):
        shelf.entries(tags=["A1"])


def test_the_keeper_s_own_intervals_are_told_to_the_round(shelf):
    shelf.alter("A1", feed_every=14, water_every=5)
    assert (shelf.facts("A1").feed_every, shelf.facts("A1").water_every) == (14, 5)
    shelf.alter("A1", feed_every=None)
    assert (shelf.facts("A1").feed_every, shelf.facts("A1").water_every) == (None, 5)


def test_what_was_said_for_a_group_is_told_for_every_animal_and_the_latest_word_counts(shelf):
    slings = Group(Scope.STAGE, "sling")
    assert [shelf.facts(tag).schedule for tag in ("A1", "B1")] == [NOTHING_SAID] * 2
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        for days in (5, 4):
            work.schedules.set(change, Care.FEED, slings, days)
        work.schedules.set(change, Care.WATER, EVERYONE, 7)
        work.schedules.set_slow(change, SlowMonths(11, 2))
    shelf.add(specimen("Z1"))
    for facts in shelf.all_facts():
        assert dict(facts.schedule.every) == {(Care.FEED, slings): 4, (Care.WATER, EVERYONE): 7}
        assert facts.schedule.slow == SlowMonths(11, 2)
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        work.schedules.set(change, Care.FEED, slings, None)
        work.schedules.set_slow(change, None)
    assert dict(shelf.facts("A1").schedule.every) == {(Care.WATER, EVERYONE): 7}
    assert shelf.facts("A1").schedule.slow is None
    assert shelf.undo(change)
    assert shelf.facts("Z1").schedule.every[Care.FEED, slings] == 4


def test_what_is_said_of_one_shelf_is_of_no_other(shelf):
    other = shelf_in(shelf.store, "Birch (invented)")
    other.add(specimen("A1"))
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        work.schedules.set(change, Care.FEED, EVERYONE, 5)
    assert other.facts("A1").schedule == NOTHING_SAID


def test_the_facts_of_a_shelf_take_as_many_queries_for_many_animals_as_for_one(shelf):
    asked = []
    event.listen(shelf.store.engine, "before_cursor_execute", lambda *said: asked.append(said[2]))
    shelf.all_facts()
    few = len(asked)
    shelf.add(*(specimen(f"T{number}") for number in range(30)))
    asked.clear()
    assert len(shelf.all_facts()) > 30
    assert len(asked) == few


@pytest.mark.parametrize("field", ["lot_size", "gone_on", "shelf_id"])
def test_what_is_not_a_matter_of_who_it_is_cannot_be_altered(shelf, field):
    with pytest.raises(StoreError, match="cannot be altered"):
        shelf.alter("A1", **{field: 1})


@pytest.mark.parametrize("tag", ["A1", "a1", " A1 ", "\uff211"])
def test_a_tag_is_unique_among_the_living_of_a_shelf(shelf, tag):
    with pytest.raises(TagTakenError, match="A1 is taken"):
        shelf.add(specimen(tag))
    with pytest.raises(TagTakenError):
        shelf.alter("A2", tag=tag)
    assert [one.specimen.tag for one in shelf.specimens()] == ["A1", "A2", "B1"]
    shelf_in(shelf.store, "Birch (invented)").add(specimen(tag))


def test_two_new_specimens_cannot_share_a_tag(shelf):
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        with pytest.raises(TagTakenError):
            work.shelves.add_all(change, [specimen("N1"), specimen("n1")], on=[TODAY, TODAY])
    assert len(shelf.specimens()) == 3


def test_places_are_those_where_someone_stands_however_they_are_written(shelf):
    def places():
        with shelf.store.look() as work:
            return work.shelves.places(shelf.id)

    assert places() == ("Shelf A", "Shelf B")
    shelf.alter("B1", place="SHELF a")
    assert places() == ("Shelf A",)
    assert shelf.facts("B1").specimen.place == "Shelf A"
    moved = shelf.alter("A1", place="Rak 2")
    assert places() == ("Shelf A", "Rak 2")
    shelf.undo(moved)
    assert places() == ("Shelf A",)
    shelf.alter("A1", place=None)
    assert shelf.facts("A1").specimen.place is None


def test_the_revision_grows_with_every_change_to_who_stands_there_and_no_other(shelf):
    seen = [shelf.revision()]

    def grew():
        seen.append(shelf.revision())
        return seen[-1] > seen[-2]

    shelf.log(entry("fed", "A1"), entry("climate", temp_c="24"))
    assert not grew()
    altered = shelf.alter("A1", name="Onyx")
    assert grew()
    shelf.undo(altered)
    assert grew()
    shelf.redo(altered)
    assert grew()
    shelf.add(specimen("C1"))
    assert grew()
    died = shelf.log(entry("died", "C1"))
    assert grew()
    shelf.undo(died)
    assert grew()
    shelf.log(entry("sexed", "A1", sex="female"))
    assert grew()


def test_facts_can_be_asked_for_some_tags_only(shelf):
    with shelf.store.look() as work:
        found = work.shelves.facts(shelf.id, tags=["b1", "A1", "nobody"])
    assert [one.specimen.tag for one in found] == ["A1", "B1"]


def test_a_keeper_sees_their_own_shelf_first_and_others_within_their_period(shelf):
    code = {"role": Role.HELPER, "expires_at": NOW + timedelta(days=1), "at": NOW}
    with shelf.store.begin() as work:
        work.keepers.invite(shelf.id, code_hash="h1", by=shelf.keeper.id, **code)
        helper = work.keepers.redeem(
            "h1", name="Birch", front_end="telegram", address="8", settings=KeeperSettings(), at=NOW
        )
        assert work.shelves.of(helper.id, on=TODAY) == (
            Membership(shelf_id=helper.shelf_id, role=Role.OWNER),
            Membership(shelf_id=shelf.id, role=Role.HELPER),
        )
        assert work.shelves.of(shelf.keeper.id, on=TODAY) == (Membership(shelf_id=shelf.id, role=Role.OWNER),)


def test_names_are_rid_of_characters_that_databases_refuse(store):
    shelf = shelf_in(store)
    shelf.add(specimen("A\x001", name="An\ud800vil", aka=("\x00",), place="Shelf\x00"))
    shelf.alter("A1", common=("a\x00b",))
    (one,) = shelf.specimens()
    assert (one.specimen.tag, one.specimen.name, one.specimen.place) == ("A1", "An?vil", "Shelf")
    assert (one.specimen.aka, one.specimen.common) == (("",), ("ab",))


def test_an_unknown_shelf_has_no_revision(store):
    with store.look() as work, pytest.raises(NotOnShelfError):
        work.shelves.revision(10_000)
