"""Water: the air against published tables, drying against its own law, and what an own record says."""

from datetime import date, timedelta
from decimal import Decimal
from math import exp, log

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.stats import norm

from bot.husbandry import practice, water_record
from bot.husbandry.air import saturation_pressure_pa, vapour_deficit_pa
from bot.husbandry.animal import OWN_RECORD, Animal
from bot.husbandry.species import Moisture
from bot.husbandry.state import state_of
from bot.husbandry.watering import (
    FREELY_MM,
    FREELY_PART,
    WATER_MM_PER_CM,
    WATERED_AT,
    Air,
    lasting,
    thirst,
    watering_of,
)
from bot.terms import Entry, Kind, Specimen, Stage

TODAY = date(2026, 5, 14)


# -- the air --------------------------------------------------------------------------------------------


# IAPWS-95 (CoolProp 8, run once); at 25 °C also ASHRAE 2017 Fundamentals ch. 1 table 3.
@pytest.mark.parametrize(
    ("temp", "pascal"),
    [(10, 1228.20), (15, 1705.79), (20, 2339.32), (25, 3169.93), (25, 3169.7), (30, 4246.97), (35, 5629.02)],
)
def test_saturation_pressure_is_that_of_the_steam_tables_within_half_a_per_cent(temp, pascal):
    assert saturation_pressure_pa(temp) == pytest.approx(pascal, rel=0.005)


@given(st.floats(5, 40), st.floats(5, 100))
def test_the_deficit_is_that_of_psychrolib(temp, humidity):
    psychrolib.SetUnitSystem(psychrolib.SI)
    saturated = psychrolib.GetSatVapPres(temp)
    assert vapour_deficit_pa(temp, humidity) == pytest.approx(
        saturated * (1 - humidity / 100), rel=0.005, abs=1
    )


# Worked values of the WMO form (WMO-No. 8): °C, % RH, deficit in Pa.
@pytest.mark.parametrize(
    ("temp", "humidity", "deficit"),
    [(25, 50, 1580.0), (25, 80, 632.0), (20, 50, 1166.3), (24, 70, 893.0), (28, 75, 942.8)],
)
def test_worked_values_of_the_wmo_form(temp, humidity, deficit):
    assert vapour_deficit_pa(temp, humidity) == pytest.approx(deficit, abs=0.5)


# -- a drying layer ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("moisture", list(Moisture))
@pytest.mark.parametrize("depth", [1.0, 4.0, 9.0, 20.0])
def test_a_layer_dries_as_the_two_stages_of_fao_56_have_it(moisture, depth):
    """Equations 73 and 74: as fast as the air takes it, then times (TEW - D) / (TEW - REW); by ``scipy``."""
    whole = WATER_MM_PER_CM.value * min(depth, 12.0)
    freely = min(FREELY_PART.value * whole, FREELY_MM.value)

    def rate(_day, gone):
        return [1.0 if gone[0] <= freely else max(whole - gone[0], 0.0) / (whole - freely)]

    def used_up(_day, gone):
        return gone[0] - WATERED_AT[moisture] * whole

    used_up.terminal = True
    found = solve_ivp(rate, (0, 500), [0.0], events=used_up, max_step=0.05 * whole, rtol=1e-8, atol=1e-8)
    assert lasting(depth, moisture) == pytest.approx(float(found.t_events[0][0]), rel=0.01)


def test_a_deeper_layer_lasts_longer_up_to_what_dries_from_above():
    days = [lasting(depth, Moisture.PART_MOIST) for depth in (1, 2, 4, 8, 12)]
    assert days == sorted(days)
    assert lasting(12, Moisture.PART_MOIST) == lasting(40, Moisture.PART_MOIST)


# -- an animal's watering ------------------------------------------------------------------------------------


def animal(*entries, species="Pamphobeteus antinous", stage=Stage.JUVENILE, span=6.0) -> Animal:
    """An invented animal of a moist kind."""
    specimen = Specimen(tag="C1", species=species, stage=stage, span_cm=Decimal(str(span)))
    return Animal(specimen, state_of(entries))


def entry(ago: int, kind: str, **fields) -> Entry:
    return Entry(kind=Kind(kind), day=TODAY - timedelta(days=ago), specimens=("C1",), **fields)


def waterings(every: int, times: int = 12) -> list[Entry]:
    return [entry(every * n, "watered") for n in range(times)]


def test_without_a_record_and_a_reading_it_is_practices_middle_with_a_range():
    for species in ("Pamphobeteus antinous", "Tliltocatl albopilosus", "Grammostola pulchra"):
        for stage, span in ((Stage.SLING, 2.0), (Stage.JUVENILE, 6.0), (Stage.ADULT, 14.0)):
            one = animal(species=species, stage=stage, span=span)
            figure = practice.WATER_INTERVAL[one.species.moisture, one.stage]
            found = watering_of(one, TODAY)
            assert found.days == figure.days
            assert found.early <= found.days <= found.late <= figure.high


def test_dry_air_shortens_and_damp_air_lengthens_within_the_trades_range():
    one = animal()
    figure = practice.WATER_INTERVAL[one.species.moisture, one.stage]
    dry, usual, damp = (
        watering_of(one, TODAY, air=Air(TODAY, temp, humidity)).days
        for temp, humidity in ((28, 35), (24, 60), (22, 80))
    )
    assert dry < usual == figure.days <= damp <= figure.high


def test_thirst_goes_with_the_vapour_deficit():
    one = animal()
    double = Air(TODAY, 24.0, 20.0)  # twice the deficit of 60 %
    assert thirst(one, TODAY, double) == pytest.approx(2.0)
    assert thirst(one, TODAY, Air(TODAY, 24.0, 60.0)) == pytest.approx(1.0)


def test_an_old_reading_says_nothing_of_today():
    old = Air(TODAY - timedelta(days=30), 30.0, 20.0)
    assert watering_of(animal(), TODAY, air=old) == watering_of(animal(), TODAY)


def test_shallow_substrate_is_watered_sooner_than_deep():
    shallow, deep = (animal(entry(40, "rehoused", substrate_cm=Decimal(cm))) for cm in (1, 15))
    assert watering_of(shallow, TODAY).days < watering_of(deep, TODAY).days


@pytest.mark.parametrize("every", [3, 5])
def test_the_keepers_own_waterings_take_over_as_they_add_up(every):
    few, many = (watering_of(animal(*waterings(every, times)), TODAY) for times in (2, 25))
    assert many.basis == OWN_RECORD != few.basis
    assert many.days == every
    assert many.late - many.early <= few.late - few.early


def test_found_dry_sooner_and_still_damp_later_move_it():
    base = waterings(4, 6)
    dry = animal(*base, *(entry(4 * n - 2, "note", note="bone dry already") for n in range(1, 6)))
    damp = animal(*base, *(entry(4 * n - 3, "note", note="substrate still damp") for n in range(1, 6)))
    assert watering_of(dry, TODAY).days < watering_of(animal(*base), TODAY).days
    assert dry.state.drying_sum / dry.state.drying_weight < log(3.5)
    later = [entry(6 * n, "watered") for n in range(6)]
    still = animal(*later, *(entry(6 * n - 5, "note", note="still damp") for n in range(1, 6)))
    assert watering_of(still, TODAY).days >= watering_of(animal(), TODAY).days
    assert damp.state.drying_weight > 0


def test_a_keeper_who_lets_it_go_long_is_still_reminded_within_the_trades_range():
    for one in (animal(*waterings(14, 20)), animal(*waterings(20, 20), stage=Stage.SLING, span=2.0)):
        figure = practice.WATER_INTERVAL[one.species.moisture, one.stage]
        assert watering_of(one, TODAY).late <= figure.high


def test_an_absence_teaches_nothing_of_the_substrate():
    away = animal(entry(25, "watered"), entry(3, "watered"))
    assert watering_of(away, TODAY) == watering_of(animal(), TODAY)


def test_slings_are_never_watered_less_often_than_the_grown_of_their_kind():
    for species in ("Pamphobeteus antinous", "Tliltocatl albopilosus", "Grammostola pulchra"):
        for air in (None, Air(TODAY, 30, 30), Air(TODAY, 18, 85)):
            young, old = (
                watering_of(animal(species=species, stage=stage, span=span), TODAY, air=air)
                for stage, span in ((Stage.SLING, 2.0), (Stage.ADULT, 14.0))
            )
            assert young.days <= old.days


@given(st.integers(0, 12), st.integers(1, 30), st.floats(5, 40), st.floats(0, 100))
def test_a_fresh_molt_waits_no_longer_than_three_days_whatever_was_noted(times, every, temp, humidity):
    # common practice, no source
    found = watering_of(animal(*waterings(every, times)), TODAY, fresh=True, air=Air(TODAY, temp, humidity))
    assert 1 <= found.early <= found.days <= found.late <= 3


def test_a_new_home_begins_anew():
    moved = animal(*(entry(3 * n, "watered") for n in range(1, 20)), entry(0, "rehoused"))
    assert watering_of(moved, TODAY) == watering_of(animal(), TODAY)


# -- the belief --------------------------------------------------------------------------------


@pytest.mark.parametrize("dry", [True, False])
@pytest.mark.parametrize("days", [2, 5, 9])
def test_one_look_has_the_mean_of_the_exact_posterior(dry, days):
    """Checked by ``scipy.integrate``: a broad normal belief on log days, times the chance of the look."""
    weight, total = water_record.after_look(water_record.NOTHING, days, dry=dry)
    spread, look = 0.7, 0.25

    def joint(x: float) -> float:
        seen = norm.cdf((log(days) - x) / look)
        return float(norm.pdf(x, log(5), spread) * (seen if dry else 1 - seen))

    mass = quad(joint, -4, 7)[0]
    mean = quad(lambda x: x * joint(x), -4, 7)[0] / mass
    broad = 1 / spread**2
    ours = (total / 1000 + log(5) * broad) / (weight / 1000 + broad)
    assert ours == pytest.approx(mean, abs=0.01)


@given(st.lists(st.tuples(st.sampled_from(["gap", "dry", "damp"]), st.integers(0, 40)), max_size=40))
def test_whatever_was_noted_the_belief_stays_within_reason(events):
    belief = water_record.NOTHING
    for what, days in events:
        if what == "gap":
            belief = water_record.after_gap(belief, days)
        else:
            belief = water_record.after_look(belief, days, dry=what == "dry")
    weight, total = belief
    assert 0 <= weight < 1e7
    if weight > 4000:
        assert 0.2 < exp(total / weight) < 60


@pytest.mark.parametrize(
    ("note", "dry"),
    [
        ("substrate is dry", True),
        ("bone dry already", True),
        ("still damp", False),
        ("soil still moist", False),
        ("not dry yet", None),
        ("isn't damp any more", None),
        ("dry on top, damp below", None),
        ("abdomen looks dry", None),
        ("threat pose", None),
        ("dug the whole evening at the dry corner behind the cork bark", None),
        (None, None),
    ],
)
def test_only_a_short_plain_note_tells_of_the_substrate(note, dry):
    assert water_record.found_dry(note) is dry
