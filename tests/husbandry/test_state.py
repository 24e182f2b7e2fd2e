"""What each kind of entry does to a specimen's state."""

from datetime import date, time, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry.state import SpecimenState, advance, state_of
from bot.terms import Entry, Kind, PreySize, SacEvent, Sex, Stage, WaterHow

DAY = date(2026, 3, 2)


def on(offset: int, kind: Kind, **fields) -> Entry:
    return Entry(kind=kind, day=DAY + timedelta(days=offset), specimens=("C1",), **fields)


def day(offset: int) -> date:
    return DAY + timedelta(days=offset)


FOLDS = {
    "a taken meal closes the offer, the refusals, premolt and sealing": (
        [
            on(0, Kind.MOLTED),
            on(1, Kind.SEALED),
            on(1, Kind.PREMOLT),
            on(2, Kind.REFUSED),
            on(3, Kind.OFFERED),
            on(4, Kind.FED, prey="cricket", size=PreySize.SMALL, count=2),
        ],
        {
            "last_fed": day(4),
            "last_prey": "cricket",
            "last_prey_size": "small",
            "last_prey_count": 2,
            "open_offer": None,
            "refusals": 0,
            "refusing_since": None,
            "eaten_since_molt": True,
            "sealed_since": None,
            "premolt_since": None,
        },
    ),
    "refusals count and keep the first day": (
        [on(0, Kind.OFFERED), on(1, Kind.REFUSED), on(8, Kind.REFUSED)],
        {
            "refusals": 2,
            "refusing_since": day(1),
            "last_refused": day(8),
            "open_offer": None,
            "last_fed": None,
        },
    ),
    "a molt told again days later is no second molt in this home": (
        [on(0, Kind.REHOUSED), on(40, Kind.MOLTED), on(43, Kind.MOLTED)],
        {"last_molted": day(43), "molts_in_home": 1, "last_interval": None},
    ),
    "two molts as far apart as a fresh sling's count both": (
        [on(0, Kind.REHOUSED), on(40, Kind.MOLTED), on(61, Kind.MOLTED)],
        {"molts_in_home": 2, "last_interval": 21},
    ),
    "an offer stays open until its outcome": ([on(0, Kind.OFFERED)], {"open_offer": day(0)}),
    "a molt ends premolt and sealing, and the animal has not eaten since": (
        [on(0, Kind.FED), on(1, Kind.PREMOLT), on(2, Kind.SEALED), on(3, Kind.REFUSED), on(30, Kind.MOLTED)],
        {
            "last_molted": day(30),
            "molts_in_home": 1,
            "eaten_since_molt": False,
            "premolt_since": None,
            "sealed_since": None,
            "refusals": 0,
        },
    ),
    "a molt leaves an open offer open, for live prey is a danger": (
        [on(0, Kind.OFFERED), on(1, Kind.MOLTED)],
        {"open_offer": day(0)},
    ),
    "the ultimate molt is a molt and makes a mature male": (
        [on(0, Kind.MATURED)],
        {
            "molts_in_home": 1,
            "last_molted": day(0),
            "matured_on": day(0),
            "stage": Stage.MATURE_MALE,
            "sex": Sex.MALE,
            "eaten_since_molt": False,
        },
    ),
    "maturing said twice is one molt": (
        [on(0, Kind.MATURED), on(5, Kind.MATURED)],
        {"molts_in_home": 1, "matured_on": day(0)},
    ),
    "sealed twice keeps the first day": ([on(0, Kind.SEALED), on(9, Kind.SEALED)], {"sealed_since": day(0)}),
    "a look leaves the day of sealing alone": (
        [on(0, Kind.SEALED), on(9, Kind.CHECKED)],
        {"sealed_since": day(0), "last_checked": day(9)},
    ),
    "opening ends the seal, and the next seal has its own day": (
        [on(0, Kind.SEALED), on(9, Kind.OPENED), on(20, Kind.SEALED)],
        {"sealed_since": day(20), "last_opened": day(9)},
    ),
    "rehousing alone does not end a seal": (
        [on(0, Kind.SEALED), on(3, Kind.REHOUSED)],
        {"sealed_since": day(0)},
    ),
    "a new home's unsaid figures are not the old home's": (
        [
            on(0, Kind.REHOUSED, volume_l=Decimal(9), substrate_cm=Decimal(5)),
            on(9, Kind.REHOUSED, volume_l=Decimal(20)),
        ],
        {"volume_l": Decimal(20), "substrate_cm": None, "last_rehoused": day(9)},
    ),
    "a measurement changes only what was measured": (
        [on(0, Kind.MEASURED, span_cm=Decimal("4.5")), on(9, Kind.MEASURED, weight_g=Decimal("2.1"))],
        {"span_cm": Decimal("4.5"), "span_on": day(0), "weight_g": Decimal("2.1"), "weight_on": day(9)},
    ),
    "water is noted where it went": (
        [
            on(0, Kind.WATERED, how=WaterHow.DISH),
            on(2, Kind.WATERED, how=WaterHow.MISTED),
            on(3, Kind.WATERED),
        ],
        {"last_watered": day(3), "last_water_how": None, "last_dish": day(0), "last_dampened": day(2)},
    ),
    "a sac is there from laying to pulling": (
        [on(0, Kind.SAC, event=SacEvent.LAID), on(40, Kind.SAC, event=SacEvent.PULLED)],
        {"sac_since": None},
    ),
    "a laid sac is there": ([on(0, Kind.SAC, event=SacEvent.LAID)], {"sac_since": day(0)}),
    "sexing sets the sex": ([on(0, Kind.SEXED, sex="female")], {"sex": Sex.FEMALE}),
    "a sex not known to the trade changes nothing": ([on(0, Kind.SEXED, sex="maybe")], {"sex": Sex.UNKNOWN}),
    "a death ends the specimen": ([on(0, Kind.DIED)], {"gone_on": day(0), "gone_how": "died", "lot_size": 0}),
    "a note touches only the days of entry": (
        [on(0, Kind.FED), on(9, Kind.NOTE, note="webbing")],
        {"last_entry": day(9), "last_fed": day(0)},
    ),
}


@pytest.mark.parametrize(("entries", "expected"), FOLDS.values(), ids=FOLDS)
def test_the_fold(entries, expected):
    state = state_of(entries)
    assert expected == {name: getattr(state, name) for name in expected}


def test_a_lot_shrinks_by_the_count_and_ends_with_its_last_animal():
    lot = SpecimenState(lot_size=10)
    fewer = state_of([on(0, Kind.DIED, count=2), on(1, Kind.LEFT, count=3)], lot)
    assert (fewer.lot_size, fewer.gone_on) == (5, None)
    over = state_of([on(2, Kind.LEFT, count=5)], fewer)
    assert (over.lot_size, over.gone_on, over.gone_how) == (0, day(2), "left")


def test_an_entry_written_later_for_an_earlier_day_stands_on_its_own_day():
    written_late = state_of([on(9, Kind.FED, prey="roach"), on(2, Kind.FED, prey="cricket")])
    assert (written_late.last_fed, written_late.last_prey) == (day(9), "roach")


def test_on_one_day_clock_times_decide_and_untimed_entries_come_first():
    entries = [on(0, Kind.SEALED, time=time(20, 0)), on(0, Kind.OPENED, time=time(9, 0)), on(0, Kind.FED)]
    assert state_of(entries).sealed_since == day(0)


some_entries = st.lists(
    st.builds(
        Entry,
        kind=st.sampled_from(Kind),
        day=st.integers(0, 60).map(day),
        time=st.none() | st.times(),
        count=st.none() | st.integers(-2, 12),
        sex=st.none() | st.sampled_from(["female", "male", "?"]),
        event=st.none() | st.sampled_from(SacEvent),
        how=st.none() | st.sampled_from(WaterHow),
    ),
    max_size=25,
)


@given(some_entries)
def test_the_fold_never_fails_and_one_step_at_a_time_is_the_same(entries):
    whole = state_of(entries)
    ordered = sorted(entries, key=lambda entry: (entry.day, entry.time or time.min))
    stepwise = SpecimenState()
    for entry in ordered:
        stepwise = advance(stepwise, entry)
    assert stepwise == whole


@given(some_entries)
def test_days_of_rest_lie_within_the_journal_and_a_taken_meal_leaves_none(entries):
    state = state_of(entries)
    for since in (state.sealed_since, state.premolt_since, state.refusing_since):
        assert since is None or state.first_entry <= since <= state.last_entry
    assert (state.refusals == 0) == (state.refusing_since is None)
    fed = advance(state, Entry(kind=Kind.FED, day=day(61)))
    assert (fed.sealed_since, fed.premolt_since, fed.open_offer, fed.refusals) == (None, None, None, 0)
