"""The simulator writes journals that could be true."""

from collections import Counter, defaultdict
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.demo.animals import Resident, Scene
from bot.demo.shelf import crowd, demo_shelf
from bot.demo.simulator import journal_of
from bot.husbandry.species import species_of
from bot.husbandry.state import SpecimenState, advance, state_of
from bot.terms import Entry, Kind, Sex, Specimen, Stage

END = date(2026, 5, 14)
MEALS = {Kind.FED, Kind.OFFERED, Kind.REFUSED}

# Days from a molt to the next by pace and span, and the shortest wait for the first meal after one, by
# span: common practice, no source. Written down here a second time on purpose.
MOLT_INTERVALS = {
    "fast": [(2, 21, 45), (5, 40, 75), (10, 75, 150), (99, 120, 240)],
    "medium": [(2, 30, 60), (5, 60, 120), (10, 120, 240), (99, 180, 330)],
    "slow": [(2, 45, 75), (5, 75, 150), (10, 150, 300), (99, 270, 420)],
}
ADULT_MOLT_INTERVALS = {"fast": (270, 450), "medium": (330, 540), "slow": (365, 730)}
FIRST_MEAL = [(2.5, 4), (7.5, 7), (12.5, 7), (18, 10), (99, 14)]


def lives(residents, entries):
    """Each resident with its entries, and for each the state just before it."""
    of_tag = defaultdict(list)
    for entry in entries:
        for tag in entry.specimens:
            of_tag[tag].append(entry)
    for resident in residents:
        state, steps = SpecimenState(), []
        for entry in sorted(of_tag[resident.specimen.tag], key=lambda e: e.day):
            steps.append((state, entry))
            state = advance(state, entry)
        yield resident, steps


@pytest.fixture(scope="module", params=[1, 2])
def crowd_of_60(request):
    residents = crowd(60, seed=request.param)
    return residents, journal_of(residents, seed=request.param, end=END, days=900)


def test_no_food_goes_into_a_sealed_burrow(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        fed_while_sealed = [e.day for state, e in steps if e.kind in MEALS and state.sealed_since]
        assert fed_while_sealed == [], resident.specimen.tag


def test_no_food_goes_in_before_the_fangs_have_hardened(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        for state, entry in steps:
            if entry.kind in MEALS and state.last_molted and state.span_cm:
                wait = next(days for below, days in FIRST_MEAL if state.span_cm < below)
                assert (entry.day - state.last_molted).days >= wait, (resident.specimen.tag, entry.day)


def test_a_mature_male_does_not_molt_again(crowd_of_60):
    molts = (Kind.MOLTED, Kind.MATURED, Kind.PREMOLT, Kind.SEALED)
    for resident, steps in lives(*crowd_of_60):
        assert not [e for state, e in steps if state.stage is Stage.MATURE_MALE and e.kind in molts]
        if resident.specimen.stage is Stage.MATURE_MALE:
            assert [e.kind for _, e in steps].count(Kind.MATURED) == 1


def test_what_premolt_begins_a_molt_ends_and_nothing_is_eaten_between(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        taken = [e.day for state, e in steps if e.kind is Kind.FED and state.premolt_since]
        assert taken == [], resident.specimen.tag


def test_molt_intervals_are_those_of_practice(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        molts = [e.day for _, e in steps if e.kind in (Kind.MOLTED, Kind.MATURED)]
        rows = MOLT_INTERVALS[resident.species.pace.value]
        adult = ADULT_MOLT_INTERVALS[resident.species.pace.value]
        for before, after in pairwise(molts):
            days = (after - before).days
            assert min(low for _, low, _ in rows) <= days <= max(adult[1], *(high for _, _, high in rows))
        if resident.specimen.stage is Stage.SLING:
            row = next(r for r in rows if float(resident.specimen.span_cm) < r[0])
            gaps = [(after - before).days for before, after in pairwise(molts)]
            assert all(gap <= row[2] for gap in gaps), resident.specimen.tag


def test_cycles_of_a_growing_animal_get_longer_with_size():
    residents = [r for r in crowd(300, seed=9) if r.specimen.stage is Stage.JUVENILE]
    entries = journal_of(residents, seed=9, end=END, days=365 * 4)
    first, last = [], []
    for _, steps in lives(residents, entries):
        molts = [e.day for _, e in steps if e.kind is Kind.MOLTED]
        if len(molts) > 4:
            first.append((molts[1] - molts[0]).days)
            last.append((molts[-1] - molts[-2]).days)
    assert len(first) > 50
    assert sum(last) > 1.5 * sum(first)


def test_spans_grow_from_measuring_to_measuring(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        spans = [e.span_cm for _, e in steps if e.kind is Kind.MEASURED]
        assert spans == sorted(spans), resident.specimen.tag


def test_water_is_never_paused(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        days = [e.day for _, e in steps if e.kind is Kind.WATERED]
        gaps = [(after - before).days for before, after in pairwise(days)]
        assert max(gaps) <= 10, resident.specimen.tag


def test_homes_only_change_once_a_molt_has_hardened_and_not_in_premolt(crowd_of_60):
    for resident, steps in lives(*crowd_of_60):
        for state, entry in steps:
            if entry.kind is Kind.REHOUSED:
                assert state.sealed_since is None, resident.specimen.tag
                assert state.premolt_since is None, resident.specimen.tag
                assert state.last_molted is None or (entry.day - state.last_molted).days >= 6


@pytest.mark.parametrize(
    ("scene", "holds"),
    [
        (Scene.SEALED, lambda s: s.sealed_since is not None),
        (Scene.PREMOLT, lambda s: s.premolt_since is not None and s.sealed_since is None),
        (Scene.FRESH_MOLT, lambda s: (END - s.last_molted).days <= 9 and not s.eaten_since_molt),
        (Scene.OPEN_OFFER, lambda s: s.open_offer == END - timedelta(days=1)),
        (Scene.SETTLING, lambda s: s.last_rehoused == END - timedelta(days=2)),
        (Scene.SAC, lambda s: s.sac_since is not None and s.last_fed <= s.sac_since),
        (Scene.HUNGRY, lambda s: (END - s.last_fed).days >= 8 and not s.sealed_since and not s.premolt_since),
    ],
    ids=lambda value: value.value if isinstance(value, Scene) else "",
)
@given(seed=st.integers(0, 10_000))
@settings(max_examples=30, deadline=None)
def test_each_scene_is_so_on_the_last_day(scene, holds, seed):
    resident = Resident(
        specimen=Specimen(
            tag="Z1", species="Ceratogyrus darlingi", sex=Sex.FEMALE, stage=Stage.ADULT, span_cm=12
        ),
        species=species_of("Ceratogyrus darlingi"),
        scene=scene,
    )
    entries = journal_of([resident], seed=seed, end=END)
    assert holds(state_of(e for e in entries if e.specimens))


def test_the_same_seed_and_day_give_the_same_journal():
    shelf = demo_shelf()
    once = journal_of(shelf.residents, seed=shelf.seed, end=END)
    again = journal_of(shelf.residents, seed=shelf.seed, end=END)
    assert once == again
    assert once != journal_of(shelf.residents, seed=shelf.seed + 1, end=END)


def test_an_animals_life_does_not_hang_on_who_else_is_there():
    residents = crowd(20, seed=4)
    alone = journal_of(residents[7:8], seed=4, end=END)
    among_all = journal_of(residents, seed=4, end=END)
    tag = residents[7].specimen.tag
    assert [e for e in among_all if e.specimens == (tag,)] == [e for e in alone if e.specimens]


def test_every_entry_lies_within_the_records_and_stands_in_order():
    entries = journal_of(demo_shelf().residents, seed=1, end=END, days=100)
    days = [entry.day for entry in entries]
    assert days == sorted(days)
    assert days[0] >= END - timedelta(days=100)
    assert days[-1] <= END


@given(end=st.dates(date(2024, 1, 1), date(2032, 12, 31)))
@settings(max_examples=15, deadline=None)
def test_the_demo_shelf_shows_every_kind_of_day_whatever_the_date(end):
    shelf = demo_shelf()
    entries = journal_of(shelf.residents, seed=shelf.seed, end=end)
    states = {
        r.specimen.tag: state_of(e for e in entries if e.specimens == (r.specimen.tag,))
        for r in shelf.residents
    }
    assert sum(s.sealed_since is not None for s in states.values()) == 3
    assert sum(s.premolt_since is not None and s.sealed_since is None for s in states.values()) >= 2
    assert states["H3"].sac_since is not None
    assert states["M2"].open_offer is not None
    assert states["M1"].sealed_since is None


def test_the_demo_shelf_is_as_large_and_as_mixed_as_promised():
    residents = demo_shelf().residents
    assert len(residents) == 24
    assert len({r.specimen.species for r in residents}) >= 12
    assert all(r.species.known for r in residents)
    assert [r.specimen.tag for r in residents if "the horned one" in r.specimen.aka] == ["M1"]
    assert any(r.specimen.lot_size > 1 for r in residents)
    assert Counter(r.scene for r in residents).keys() == set(Scene)


def test_a_crowd_has_as_many_tags_and_names_as_animals():
    residents = crowd(5000, seed=1)
    assert len({r.specimen.tag.casefold() for r in residents}) == 5000
    assert len({(r.specimen.name or "").casefold() for r in residents}) == 5000
    assert all(isinstance(entry, Entry) for entry in journal_of(residents[:3], seed=1, end=END))
