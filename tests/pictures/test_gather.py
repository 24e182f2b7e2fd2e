from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry.state import state_of
from bot.pictures import gather
from bot.pictures.data import Step, Stretch, StretchKind
from bot.round.rests import rest_of
from bot.terms import Entry, Kind, Specimen, Stage
from tests.pictures.conftest import TODAY

TAG = "Q1"
ANIMAL = Specimen(tag=TAG, species="Brachypelma hamorii")


def entry(kind, day, **more):
    return Entry(kind=kind, day=date(2026, 1, 1) + timedelta(days=day), specimens=(TAG,), **more)


def day(number):
    return date(2026, 1, 1) + timedelta(days=number)


KINDS = st.sampled_from(
    [Kind.FED, Kind.REFUSED, Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.MOLTED, Kind.MATURED, Kind.NOTE]
)
JOURNALS = st.lists(st.builds(entry, KINDS, st.integers(0, 300)), max_size=40)


@given(JOURNALS)
def test_a_stretch_that_lasts_is_the_one_in_the_animals_state(entries):
    state = state_of(entries)
    lasting = {s.kind: s.since for s in gather.stretches_in(gather.of(TAG, entries)) if s.until is None}
    assert lasting.get(StretchKind.SEALED) == state.sealed_since
    assert lasting.get(StretchKind.PREMOLT) == state.premolt_since


@given(JOURNALS)
def test_stretches_of_a_kind_never_overlap(entries):
    found = gather.stretches_in(gather.of(TAG, entries))
    for kind in StretchKind:
        own = [stretch for stretch in found if stretch.kind is kind]
        assert all(a.until is not None and a.until <= b.since for a, b in pairwise(own))


@given(JOURNALS, st.integers(0, 300))
def test_a_life_shows_every_meal_up_to_its_day_and_none_after(entries, last):
    life = gather.life_of(ANIMAL, entries, day(last))
    assert len(life.taken) == sum(e.kind is Kind.FED and e.day <= day(last) for e in entries)
    assert len(life.refused) == sum(e.kind is Kind.REFUSED and e.day <= day(last) for e in entries)
    assert life.first <= life.last


def test_no_stretch_outlasts_the_animal():
    entries = [entry(Kind.SEALED, 10), entry(Kind.DIED, 40)]
    assert gather.stretches_in(entries) == (Stretch(kind=StretchKind.SEALED, since=day(10), until=day(40)),)


def test_sealed_again_while_sealed_is_one_stretch():
    entries = [entry(Kind.SEALED, 10), entry(Kind.SEALED, 14), entry(Kind.MOLTED, 30), entry(Kind.SEALED, 60)]
    assert gather.stretches_in(entries) == (
        Stretch(kind=StretchKind.SEALED, since=day(10), until=day(30)),
        Stretch(kind=StretchKind.SEALED, since=day(60), until=None),
    )


def test_a_span_measured_after_a_molt_holds_from_the_molt_on():
    entries = [
        entry(Kind.ACQUIRED, 0, span_cm=Decimal(2)),
        entry(Kind.MOLTED, 20),
        entry(Kind.MEASURED, 24, span_cm=Decimal("2.6")),
        entry(Kind.MEASURED, 40, span_cm=Decimal("2.7")),
        entry(Kind.MEASURED, 41, weight_g=Decimal("0.4")),
        entry(Kind.MOLTED, 70),
    ]
    assert gather.span_steps(entries, gather.molts_in(entries)) == (
        Step(since=day(0), value=2.0),
        Step(since=day(20), value=2.6),
        Step(since=day(40), value=2.7),
    )


def test_meals_are_counted_by_month_and_months_without_any_stay():
    entries = [entry(Kind.FED, 0), entry(Kind.FED, 3), entry(Kind.REFUSED, 5), entry(Kind.FED, 70)]
    meals = gather.meals_of("Q", entries, day(0), day(80))
    assert [(m.month.month, m.taken, m.refused) for m in meals.months] == [(1, 2, 1), (2, 0, 0), (3, 1, 0)]


def test_the_demos_meals_add_up(demo):
    meals = gather.meals_of("all", demo.entries, demo.records.first, TODAY)
    assert sum(m.taken for m in meals.months) == sum(e.kind is Kind.FED for e in demo.entries)
    assert sum(m.refused for m in meals.months) == sum(e.kind is Kind.REFUSED for e in demo.entries)


def test_acceptance_counts_days_to_the_next_molt_and_leaves_out_meals_without_one():
    entries = [
        entry(Kind.FED, 0),  # 100 days before
        entry(Kind.FED, 95),  # 5 days before
        entry(Kind.REFUSED, 98),
        entry(Kind.MOLTED, 100),
        entry(Kind.FED, 120),  # no molt after it
    ]
    found = gather.acceptance_of("Q", [ANIMAL], entries)
    assert [(part.low, part.taken, part.offered) for part in found.bins if part.offered] == [
        (0, 1, 2),
        (91, 1, 1),
    ]
    assert (found.animals, found.molts) == (1, 1)


def test_the_bins_of_acceptance_leave_no_day_out():
    bins = gather.acceptance_of("nobody", [], []).bins
    assert bins[0].low == 0
    assert bins[-1].high is None
    assert all(a.high + 1 == b.low for a, b in pairwise(bins))


def test_molt_intervals_leave_out_lots_and_molts_written_twice():
    lot = replace(ANIMAL, tag="L", lot_size=5)
    entries = [entry(Kind.MOLTED, 0), entry(Kind.MOLTED, 2), entry(Kind.MOLTED, 50), entry(Kind.MATURED, 140)]
    entries += [replace(e, specimens=("L",)) for e in entries]
    found = gather.intervals_of(ANIMAL.species, [ANIMAL, lot], entries)
    assert found.animals == ((ANIMAL, (50, 90)),)


def test_a_places_band_suits_every_species_there():
    # species file: Brachypelma hamorii 20 to 28 °C, Theraphosa stirmi 23 to 28 °C
    both = [
        replace(ANIMAL, place="rack"),
        replace(ANIMAL, tag="T", species="Theraphosa stirmi", place="rack"),
    ]
    reading = Entry(kind=Kind.CLIMATE, day=day(3), place="rack", temp_c=Decimal(24))
    elsewhere = Entry(kind=Kind.CLIMATE, day=day(4), place="attic", temp_c=Decimal(30))
    found = gather.climate_of(both, [elsewhere, reading], day(0), day(9))
    assert [(place.place, place.band) for place in found.places] == [("rack", (23.0, 28.0)), ("attic", None)]


def test_a_reading_for_an_animal_counts_for_its_place():
    reading = Entry(kind=Kind.CLIMATE, day=day(3), specimens=(TAG,), temp_c=Decimal(24))
    found = gather.climate_of([replace(ANIMAL, place="rack")], [reading], day(0), day(9))
    assert [place.place for place in found.places] == ["rack"]


def test_the_glance_shows_the_rests_of_the_round(demo):
    glance = gather.glance_of(demo.facts, TODAY, demo.records.next_molts)
    for row, one in zip(glance.rows, demo.facts, strict=True):
        rest = rest_of(one, TODAY)
        assert row.rest == (rest.reason if rest else None)
        assert row.fed_days == ((TODAY - one.state.last_fed).days if one.state.last_fed else None)


def test_a_mature_male_is_shown_without_a_next_molt_even_if_one_is_given(demo):
    male = replace(ANIMAL, stage=Stage.MATURE_MALE)
    life = gather.life_of(male, [], TODAY, demo.records.next_molts["K2"])
    assert life.next_molt is None


@pytest.mark.parametrize("on", [date(2024, 1, 1), TODAY])
def test_an_animal_without_entries_has_a_life_of_no_length(on):
    life = gather.life_of(ANIMAL, [], on)
    assert (life.first, life.last, life.taken, life.molts) == (on, on, (), ())
