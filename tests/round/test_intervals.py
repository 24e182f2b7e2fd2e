"""How often, whoever has said so: for the animal, its species, its stage, all; the rule; the slow months."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry import practice
from bot.husbandry.animal import KEEPERS_SETTING
from bot.husbandry.feeding import slowed_days
from bot.husbandry.state import state_of
from bot.husbandry.water_places import WaterPlace
from bot.round.care import watering
from bot.round.intervals import feeding_interval, gap_after_meal
from bot.round.meals import meal_plan
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.round.worklist import next_for, worklist
from bot.terms import Entry, Kind, PreySize, SacEvent, Specimen, Stage
from bot.terms.schedule import EVERYONE, NOTHING_SAID, Care, Group, Schedule, Scope, SlowMonths
from tests.round.test_round_properties import ON, shelf_facts

SPECIES = "Tliltocatl albopilosus"
WINTER = SlowMonths(11, 2)
DAYS = st.none() | st.integers(1, 60)
MONTHS = st.builds(SlowMonths, st.integers(1, 12), st.integers(1, 12))


def scheduled(work=Care.FEED, slow=None, **said) -> Schedule:
    """A schedule of days by scope: ``species``, ``stage`` (for slings) and ``shelf``."""
    values = {"species": SPECIES, "stage": "sling", "shelf": None}
    groups = {(work, Group(Scope(scope), values[scope])): days for scope, days in said.items() if days}
    return Schedule(groups, slow)


def facts(*entries: Entry, stage=Stage.JUVENILE, span=None, species=SPECIES, **more) -> SpecimenFacts:
    card = Specimen(tag="C1", species=species, stage=stage, span_cm=span)
    return SpecimenFacts(specimen=card, state=state_of(entries), **more)


def fed(day: date, kind: str = "fed", **said) -> Entry:
    return Entry(kind=Kind(kind), day=day, specimens=("C1",), **said)


# --- whose word stands ------------------------------------------------------------------------


@given(DAYS, DAYS, DAYS, DAYS, st.sampled_from(Care))
def test_the_animals_own_word_stands_before_its_species_its_stage_all_and_the_rule(
    own, species, stage, shelf, work
):
    one = facts(
        stage=Stage.SLING,
        schedule=scheduled(work, species=species, stage=stage, shelf=shelf),
        **{f"{work.value}_every": own},
    )
    found = next((days for days in (own, species, stage, shelf) if days), None)
    case, plain = Case(one, ON), Case(facts(stage=Stage.SLING), ON)
    place = {Care.DISH: WaterPlace.DISH, Care.MIST: WaterPlace.SUBSTRATE}.get(work, WaterPlace.ANY)
    feeding, water = feeding_interval(case), watering(case, place)
    if work is Care.FEED:
        assert water == watering(plain, place)
        assert feeding.days == (found or feeding_interval(plain).days)
        assert (feeding.basis == KEEPERS_SETTING) == (found is not None)
    else:
        assert feeding == feeding_interval(plain)
        assert water.days == (found or watering(plain, place).days)


def test_an_animal_that_grows_leaves_the_slings_word_and_one_that_is_new_has_it_at_once():
    schedule = scheduled(stage=4)
    small = facts(schedule=schedule, stage=Stage.SLING, span=Decimal(2))
    measured = fed(ON - timedelta(days=3), "measured", span_cm=Decimal(6))
    grown = facts(measured, schedule=schedule, stage=Stage.SLING, span=Decimal(2))
    assert feeding_interval(Case(small, ON)).days == 4
    assert feeding_interval(Case(grown, ON)) == feeding_interval(
        Case(replace(grown, schedule=NOTHING_SAID), ON)
    )


def test_a_species_is_the_same_under_its_older_name():
    """Tliltocatl albopilosus stood under Brachypelma until 2019 (World Spider Catalog)."""
    one = facts(species="Brachypelma albopilosum", schedule=scheduled(species=9))
    assert feeding_interval(Case(one, ON)).days == 9


@given(shelf_facts, st.integers(1, 60))
def test_rest_stands_above_what_was_said_for_a_group(one, days):
    said = replace(one, schedule=Schedule({(Care.FEED, EVERYONE): days}))
    assert worklist([said], ON).rests == worklist([one], ON).rests


# --- slow months ------------------------------------------------------------------------------


def counted_out(days: int, since: date, slow: SlowMonths) -> int:
    """Day by day: the days until so many usual days have passed, a day of a slow month being a part."""
    passed, day, left = 0, since, float(days)
    while left > 1e-9:
        left -= 1 / practice.SLOW_MONTHS.value if day.month in slow else 1.0
        day += timedelta(days=1)
        passed += 1
    return passed


@given(st.integers(1, 40), st.dates(date(2020, 1, 1), date(2030, 12, 31)), MONTHS)
def test_slow_months_are_counted_as_day_by_day(days, since, slow):
    found = slowed_days(days, since, slow)
    assert found == counted_out(days, since, slow)
    assert days <= found <= ceil(days * practice.SLOW_MONTHS.value)


@given(shelf_facts, MONTHS)
def test_slow_months_never_bring_a_meal_forward_nor_touch_water_rests_or_slings(one, slow):
    said = replace(one, schedule=Schedule(slow=slow))
    now, then = next_for(one, ON), next_for(said, ON)
    assert (now.rest, now.water_on, now.rehouse) == (then.rest, then.water_on, then.rehouse)
    if now.feed_on is not None:
        assert then.feed_on >= now.feed_on
        if Case(one, ON).animal.stage is Stage.SLING:
            assert then.feed_on == now.feed_on


@given(shelf_facts, MONTHS, st.integers(1, 60))
def test_the_keepers_own_word_is_as_long_in_slow_months(one, slow, days):
    said = Schedule({(Care.FEED, EVERYONE): days})
    with_slow = replace(said, slow=slow)
    assert next_for(replace(one, schedule=said), ON) == next_for(replace(one, schedule=with_slow), ON)


@given(shelf_facts, MONTHS, st.integers(0, 30))
def test_the_day_of_the_next_meal_does_not_depend_on_the_day_on_which_it_is_asked(one, slow, later):
    # a hold that begins on a day between the two moves the meal, as it should
    said = replace(one, schedule=Schedule(slow=slow), held_since=None, held_until=None)
    first, second = (meal_plan(Case(said, ON + timedelta(days=d))) for d in (0, later))
    if one.state.last_fed is not None and first.why.key == second.why.key == "feed_slow_months":
        assert first.due == second.due


#: title: (last meal, day of the round, stage, key of the reason where it is due). 7 days are a juvenile's of
#: medium pace; twice as long in slow months: common practice, no source.
SEASONS = {
    "in summer all is as ever": (date(2026, 7, 1), date(2026, 7, 8), Stage.JUVENILE, "feed_due"),
    "half as often in winter": (date(2026, 12, 1), date(2026, 12, 15), Stage.JUVENILE, "feed_slow_months"),
    "not a day sooner": (date(2026, 12, 1), date(2026, 12, 14), Stage.JUVENILE, None),
    "the last days of October count whole": (
        date(2026, 10, 29),
        date(2026, 11, 9),
        Stage.JUVENILE,
        "feed_slow_months",
    ),
    "spring comes in the middle of the wait": (
        date(2027, 2, 23),
        date(2027, 3, 5),
        Stage.JUVENILE,
        "feed_slow_months",
    ),
    "slings are fed as ever": (date(2026, 12, 1), date(2026, 12, 5), Stage.SLING, "feed_due"),
}


@pytest.mark.parametrize("title", SEASONS)
def test_the_keepers_slow_months(title):
    last_fed, on, stage, key = SEASONS[title]
    one = facts(
        fed(last_fed),
        fed(on, "watered"),
        stage=stage,
        schedule=Schedule(slow=WINTER),
        added_on=date(2025, 1, 1),
    )
    tasks = {task.task.value: task.why for task in worklist([one], on).tasks}
    assert (tasks["feed"].key if "feed" in tasks else None) == key
    if key == "feed_slow_months":
        assert tasks["feed"].facts["every"] == (on - last_fed).days


def test_a_big_meal_in_slow_months_lasts_the_longer_of_the_two_and_not_both():
    big = fed(date(2026, 12, 1), prey="cricket", count=6, size=PreySize.LARGE)
    one = facts(big, span=Decimal(6))
    filled = gap_after_meal(Case(one, ON), big.day)
    slow = gap_after_meal(Case(replace(one, schedule=Schedule(slow=WINTER)), ON), big.day)
    assert filled.longer
    assert slow.days == max(filled.days, 14)


def test_a_mother_with_a_sac_waits_as_ever():
    laid = fed(date(2026, 12, 1), "sac", event=SacEvent.LAID)
    one = facts(laid, stage=Stage.ADULT, schedule=Schedule(slow=WINTER))
    assert feeding_interval(Case(one, date(2026, 12, 5))).days == practice.FEEDING_WITH_SAC.days
