"""What is picked out of a shelf for forecasts tells the same as all of its entries."""

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.demo.shelf import crowd
from bot.demo.simulator import journal_of
from bot.husbandry.forecast import forecasts
from bot.terms import KeeperSettings, Kind
from storage.living_shelf import read_living
from storage.outlook_shelf import read_for_outlooks
from tests.storage.given import NOW, TODAY, entry, specimen

_DAYS = 500


def picked(shelf, on=TODAY):
    with shelf.store.look() as work:
        return {one.specimen.tag: one for one in read_for_outlooks(work, shelf.id, on=on)}


def ahead(shelf, on=TODAY):
    return forecasts(list(picked(shelf, on).values()), on)


def by_all_entries(shelf, on=TODAY):
    with shelf.store.look() as work:
        return forecasts(read_living(work, shelf.id).records(), on)


@pytest.fixture
def crowded(shelf):
    """A shelf with invented lives on it."""
    with shelf.store.begin() as work:
        crowded = replace(shelf, keeper=work.keepers.create("Elm (invented)", KeeperSettings(), at=NOW))
    residents = crowd(12, seed=5)
    crowded.add(*(resident.specimen for resident in residents), on=TODAY - timedelta(days=_DAYS))
    crowded.log(*journal_of(residents, seed=5, end=TODAY, days=_DAYS))
    return crowded


def test_forecasts_of_what_is_picked_out_are_those_of_all_entries(crowded):
    found = ahead(crowded)
    assert len(found) == 12
    assert any(one.molts > 1 for one in found)
    assert found == by_all_entries(crowded)


def test_forecasts_of_a_day_gone_by_go_by_what_was_so_then(crowded):
    then = TODAY - timedelta(days=100)
    assert ahead(crowded, then) == by_all_entries(crowded, then)
    assert ahead(crowded, then) != ahead(crowded)


def test_what_was_undone_or_replaced_and_who_died_tell_nothing(shelf):
    shelf.add(specimen("N1"), specimen("N2"))
    shelf.log(entry(Kind.MOLTED, "N1", day=TODAY - timedelta(days=60)))
    shelf.undo(shelf.log(entry(Kind.MOLTED, "N1", day=TODAY - timedelta(days=5))))
    shelf.log(entry(Kind.DIED, "N2", day=TODAY - timedelta(days=2)))
    found = picked(shelf)
    assert found["N1"].molt_days == (TODAY - timedelta(days=60),)
    assert "N2" not in found


def test_of_a_lot_it_is_told_how_many_came(shelf):
    shelf.add(specimen("N1", lot_size=6))
    shelf.log(entry(Kind.DIED, "N1", count=2))
    lot = picked(shelf)["N1"]
    assert (lot.came, lot.state.lot_size) == (6, 4)


def test_the_warmth_of_its_place_and_of_the_room_is_felt_and_no_other(shelf):
    shelf.add(specimen("N1", place="sill"), specimen("N2"))
    for day, (place, tags, celsius) in enumerate(
        [("sill", (), "21"), ("rack", (), "22"), (None, (), "23"), (None, ("N1",), "24")], -4
    ):
        shelf.log(entry(Kind.CLIMATE, *tags, day=TODAY + timedelta(days=day), place=place, temp_c=celsius))
    found = picked(shelf)
    assert [celsius for _, celsius in found["N1"].warmth] == [21, 23, 24]
    assert [celsius for _, celsius in found["N2"].warmth] == [23]


def test_nothing_of_other_keepers_is_among_it(shelf, crowded):
    shelf.log(entry(Kind.CLIMATE, temp_c="21"))
    assert not any(one.warmth == [(TODAY, 21)] for one in picked(crowded).values())
    assert all(one.warmth == [(TODAY, 21)] and not one.molt_days for one in picked(shelf).values())


def test_a_record_picked_out_cannot_be_cut_off_before_its_last_entry(shelf):
    shelf.add(specimen("N1"))
    shelf.log(entry(Kind.FED, "N1"))
    record = picked(shelf)["N1"]
    assert record.until(TODAY) is record
    with pytest.raises(ValueError, match="goes beyond"):
        record.until(TODAY - timedelta(days=1))
