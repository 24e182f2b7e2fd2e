"""The records of the living: what looks back over them sees the animals that the round sees."""

from datetime import timedelta
from decimal import Decimal

import pytest

from bot.husbandry.concern import concerns
from bot.terms import Kind, Sex, Stage
from storage.living_shelf import read_living
from storage.shelf_on_paper import read_shelf
from tests.storage.given import TODAY, entry, specimen


def living(shelf, **more):
    with shelf.store.look() as work:
        return {one.specimen.tag: one for one in read_living(work, shelf.id, **more).records()}


def test_a_lot_that_lost_some_is_kept_on_in_its_record_as_in_its_state(shelf):
    shelf.add(specimen("L1", lot_size=6))
    shelf.log(entry(Kind.DIED, "L1", day=TODAY - timedelta(days=9), count=2))
    record, facts = living(shelf)["L1"], shelf.facts("L1")
    assert (record.state.lot_size, record.state.gone_on) == (facts.state.lot_size, None) == (4, None)
    assert (record.came, record.kept_now, record.died) == (6, 4, 2)


@pytest.mark.parametrize("lost", [0, 2])
def test_whoever_looks_after_a_lot_is_warned_of_it_however_many_it_lost(shelf, lost):
    shelf.add(specimen("L1", lot_size=6))
    shelf.log(entry(Kind.WATERED, "L1", day=TODAY - timedelta(days=90)))
    if lost:
        shelf.log(entry(Kind.DIED, "L1", day=TODAY - timedelta(days=89), count=lost))
    found = concerns(list(living(shelf).values()), TODAY)
    assert "no_water" in [concern.key for concern in found]


def test_a_record_up_to_a_day_begins_with_what_the_specimen_came_as(shelf):
    shelf.add(specimen("L1", lot_size=6, span_cm=Decimal(2)))
    shelf.log(entry(Kind.FED, "L1", day=TODAY - timedelta(days=9)))
    shelf.log(entry(Kind.DIED, "L1", day=TODAY - timedelta(days=5), count=2))
    before = living(shelf)["L1"].until(TODAY - timedelta(days=7))
    assert (before.kept_now, before.state.span_cm, before.died) == (6, 2, 0)
    with shelf.store.look() as work:
        (all_of_it,) = (one for one in read_shelf(work, shelf.id).records() if one.specimen.tag == "L1")
    assert (all_of_it.kept_now, all_of_it.came) == (4, 6)


def test_an_animal_under_the_tag_of_a_gone_one_has_a_record_of_its_own(shelf):
    shelf.add(specimen("L1"))
    shelf.log(entry(Kind.MOLTED, "L1", day=TODAY - timedelta(days=40)))
    shelf.log(entry(Kind.DIED, "L1", day=TODAY - timedelta(days=30)))
    shelf.add(specimen("L1"), on=TODAY - timedelta(days=20))
    shelf.log(entry(Kind.FED, "L1", day=TODAY - timedelta(days=3)))
    for record in (living(shelf)["L1"], living(shelf, tags=["L1"])["L1"]):
        assert [told.kind for told in record.entries] == [Kind.FED]
        assert record.state.gone_on is None


def test_what_the_keeper_put_right_on_the_card_holds_in_the_record(shelf):
    shelf.add(specimen("L1", stage=Stage.SLING, sex=Sex.UNKNOWN))
    shelf.alter("L1", stage=Stage.ADULT, sex=Sex.FEMALE)
    animal = living(shelf)["L1"].animal
    assert (animal.stage, animal.sex) == (Stage.ADULT, Sex.FEMALE)


def test_on_paper_an_animal_is_called_what_it_has_become_and_written_down_as_it_came(shelf):
    shelf.add(specimen("X3", stage=Stage.JUVENILE, sex=Sex.UNKNOWN, span_cm=Decimal(6)))
    shelf.log(entry(Kind.MEASURED, "X3", span_cm="9"), entry(Kind.MATURED, "X3"))
    with shelf.store.look() as work:
        paper = read_shelf(work, shelf.id)
    ((now, _),) = (one for one in paper.specimens if one[0].tag == "X3")
    ((came, _),) = (one for one in paper.as_they_came() if one[0].tag == "X3")
    assert (now.stage, now.sex, now.span_cm) == (Stage.MATURE_MALE, Sex.MALE, 9)
    assert (came.stage, came.sex, came.span_cm) == (Stage.JUVENILE, Sex.UNKNOWN, 6)
