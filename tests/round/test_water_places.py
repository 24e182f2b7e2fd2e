"""The dish and the substrate, each in its turn. Figures: common practice, no source."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry import practice
from bot.husbandry.species import Moisture
from bot.husbandry.state import state_of
from bot.husbandry.water_places import WaterPlace
from bot.round.care import water_plan, water_plans
from bot.round.rests import Case
from bot.round.worklist import next_for
from bot.terms import Entry, Kind, Stage, WaterHow
from tests.round.test_worklist import ON, entry, facts, lines

#: A kind that is kept damp, and one that is kept dry.
DAMP, DRY = {"species": "Theraphosa stirmi", "span_cm": Decimal(12)}, {"species": "Grammostola pulchripes"}
DISH, SUBSTRATE, PLACELESS = {"how": WaterHow.DISH}, {"how": WaterHow.SUBSTRATE}, {}


def water(days_ago: int, how: dict) -> Entry:
    return entry(days_ago, "watered", **how)


#: title: (facts, reason of the water that is due, if any)
CASES = {
    "a full dish does not put off the substrate": (
        facts(water(9, SUBSTRATE), water(1, DISH), **DAMP),
        "water_substrate",
    ),
    "a wet substrate does not put off the dish": (
        facts(water(13, DISH), water(0, SUBSTRATE), **DAMP),
        "water_dish",
    ),
    "mist is for the substrate": (
        facts(water(9, {"how": WaterHow.MISTED}), water(1, DISH), **DAMP),
        "water_substrate",
    ),
    "where both are due, it is water that is due": (
        facts(water(20, DISH), water(20, SUBSTRATE), **DAMP),
        "water_due",
    ),
    "where both are fresh nothing is due": (facts(water(0, DISH), water(0, SUBSTRATE), **DAMP), None),
    "water without a word on where counts for both": (
        facts(water(30, DISH), water(30, SUBSTRATE), water(0, PLACELESS), **DAMP),
        None,
    ),
    "where only dishes are on record they count for all": (facts(water(1, DISH), **DAMP), None),
    "a kind kept dry is asked for its dish alone": (
        facts(water(90, SUBSTRATE), water(1, DISH), **DRY),
        None,
    ),
    "behind a sealed burrow a corner is wetted, whatever the dish has": (
        facts(water(9, SUBSTRATE), water(0, DISH), entry(3, "sealed"), **DAMP),
        "water_sealed",
    ),
    "one that has just molted is told where water is due": (
        facts(water(4, SUBSTRATE), water(0, DISH), entry(1, "molted"), **DAMP),
        "water_substrate",
    ),
    "the keeper's own interval is of water as a whole": (
        facts(water(9, SUBSTRATE), water(1, DISH), water_every=5, **DAMP),
        None,
    ),
    "how often the keeper wants it misted is of mist alone": (
        facts(water(2, SUBSTRATE), water(1, DISH), mist_every=2, **DAMP),
        "water_substrate",
    ),
    "an interval for the dish is of the dish alone": (
        facts(water(0, SUBSTRATE), water(3, DISH), dish_every=3, **DAMP),
        "water_dish",
    ),
    "water as a whole is for the place of which nothing is said": (
        facts(water(0, SUBSTRATE), water(4, DISH), mist_every=9, water_every=4, **DAMP),
        "water_dish",
    ),
    "a kind kept dry is misted where the keeper has said so": (
        facts(water(5, SUBSTRATE), water(1, DISH), mist_every=5, **DRY),
        "water_substrate",
    ),
    "one that is only misted is asked for no dish": (facts(water(1, SUBSTRATE), mist_every=2, **DAMP), None),
    "behind a sealed burrow an interval for the dish does not pause the water": (
        facts(water(9, SUBSTRATE), water(0, DISH), entry(3, "sealed"), dish_every=30, **DAMP),
        "water_sealed",
    ),
    "nor does it where no place is on record": (
        facts(water(30, PLACELESS), entry(3, "sealed"), dish_every=2, **DAMP),
        "water_sealed",
    ),
    "a longer interval for mist does not hold while it is soft": (
        facts(water(4, SUBSTRATE), water(0, DISH), entry(1, "molted"), mist_every=20, **DAMP),
        "water_substrate",
    ),
}


@pytest.mark.parametrize("title", CASES)
def test_the_round_asks_for_the_place_that_is_due(title):
    one, reason = CASES[title]
    found = lines(one).get("water")
    assert (found and found[0]) == reason


def test_the_next_water_names_its_place():
    one = facts(water(1, DISH), water(0, SUBSTRATE), **DAMP)
    plan = next_for(one, ON)
    assert plan.water_place is WaterPlace.SUBSTRATE
    assert plan.water_on > ON


HOWS = st.sampled_from([None, *WaterHow])
WATERINGS = st.lists(st.tuples(st.integers(0, 60), HOWS), min_size=1, max_size=12)


@given(WATERINGS, st.sampled_from([DAMP, DRY]))
def test_each_place_waits_from_its_own_last_water_and_never_beyond_practice(told, kind):
    entries = [entry(ago, "watered", how=how) for ago, how in told]
    case = Case(facts(*entries, **kind), ON)
    plans = water_plans(case)
    both = {how for _, how in told}
    apart = WaterHow.DISH in both and bool(both & {WaterHow.SUBSTRATE, WaterHow.MISTED})
    assert (plans[0].watered.place is WaterPlace.ANY) == (not apart)
    wets = {
        WaterPlace.ANY: {None, *WaterHow},
        WaterPlace.DISH: {None, WaterHow.DISH},
        WaterPlace.SUBSTRATE: {None, WaterHow.SUBSTRATE, WaterHow.MISTED},
    }
    for plan in plans:
        last = ON - timedelta(days=min(ago for ago, how in told if how in wets[plan.watered.place]))
        assert plan.watered.last == last
        longest = max(
            practice.WATER_INTERVAL[case.animal.species.moisture, case.animal.stage].high,
            practice.DISH_INTERVAL[case.animal.stage].high,
        )
        assert timedelta(1) <= plan.due - last <= timedelta(days=longest)
        assert plan.due <= plan.latest
    assert water_plan(case).due == min(plan.due for plan in plans)


def test_dishes_teach_nothing_of_how_the_substrate_dries():
    damp = [Entry(kind=Kind.WATERED, day=ON - timedelta(days=n), **SUBSTRATE) for n in (30, 24, 18, 12, 6)]
    dishes = [Entry(kind=Kind.WATERED, day=ON - timedelta(days=n), **DISH) for n in range(0, 29, 2)]
    alone, with_dishes = state_of(damp), state_of([*damp, *dishes])
    assert alone.drying_weight > 0
    assert (with_dishes.drying_weight, with_dishes.drying_sum) == (alone.drying_weight, alone.drying_sum)


def test_a_dish_never_lasts_shorter_than_a_damp_substrate_by_practice():
    for stage in Stage:
        assert practice.DISH_INTERVAL[stage].value >= practice.WATER_INTERVAL[Moisture.MOIST, stage].value
