"""The helper's sheet must never harm: nobody at rest is fed, water goes on, help is named."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.husbandry.state import SpecimenState
from bot.pictures.paper.helper_plan import helper_days
from bot.pictures.paper.helper_sheet import HelperSheet, helper_pages
from bot.round.model import SpecimenFacts, TaskKind
from bot.round.rests import rest_of
from bot.round.worklist import worklist
from bot.terms import KeeperSettings, Specimen, Stage
from tests.pictures.conftest import TODAY
from tests.pictures.reading_back import text_of

AGO = st.none() | st.integers(0, 120).map(lambda n: TODAY - timedelta(days=n))
STATES = st.builds(
    SpecimenState,
    last_fed=AGO,
    last_watered=AGO,
    last_molted=AGO,
    open_offer=AGO,
    sealed_since=AGO,
    premolt_since=AGO,
    last_opened=AGO,
    last_rehoused=AGO,
    eaten_since_molt=st.booleans(),
)
FACTS = st.builds(
    SpecimenFacts,
    specimen=st.builds(
        Specimen,
        tag=st.just("Q1"),
        species=st.sampled_from(["Brachypelma hamorii", "Theraphosa stirmi", "Nobody known"]),
        stage=st.sampled_from(Stage),
    ),
    state=STATES,
    held_since=AGO,
)


@settings(max_examples=150, deadline=None)
@given(FACTS, st.integers(0, 5), st.integers(0, 20))
def test_a_helper_is_never_told_to_feed_one_at_rest_or_one_that_waits_for_its_keeper(facts, start, length):
    first = TODAY + timedelta(days=start)
    waited = False
    for day in helper_days([facts], TODAY, first, first + timedelta(days=length)):
        left = {one.tag: one.reason for one in day.left}
        waited = waited or ("Q1" in left and left["Q1"] is None)
        assert not (day.meals and left)
        assert not (day.meals and rest_of(facts, day.on) is not None)
        assert not (waited and day.meals)


@settings(max_examples=100, deadline=None)
@given(FACTS, st.integers(0, 20))
def test_one_that_is_sealed_or_in_premolt_gets_no_food_on_any_day(facts, length):
    sealed = replace(facts, state=replace(facts.state, sealed_since=TODAY - timedelta(days=1)))
    days = helper_days([sealed], TODAY, TODAY, TODAY + timedelta(days=length))
    assert all(day.left and not day.meals for day in days)


@settings(max_examples=100, deadline=None)
@given(FACTS)
def test_water_is_never_paused(facts):
    # a fortnight is beyond the longest interval of the practice tables
    days = helper_days([facts], TODAY, TODAY, TODAY + timedelta(days=13))
    assert any(day.water for day in days)


def test_the_first_day_is_the_rounds_without_what_calls_for_a_keepers_eye(demo):
    (day,) = helper_days(demo.facts, TODAY, TODAY, TODAY)
    round_ = worklist(demo.facts, TODAY)
    looks = {task.tag for task in round_.tasks if task.task in (TaskKind.CHECK, TaskKind.REMOVE)}
    assert [meal.tag for meal in day.meals] == [
        task.tag for task in round_.tasks if task.task is TaskKind.FEED and task.tag not in looks
    ]
    assert list(day.water) == [task.tag for task in round_.tasks if task.task is TaskKind.WATER]
    assert {one.tag for one in day.left} == looks | {rest.tag for rest in round_.rests}


@pytest.mark.parametrize(("start", "end", "words"), [(3, 1, "before it begins"), (-1, 4, "past")])
def test_a_period_that_cannot_be_is_refused(demo, start, end, words):
    with pytest.raises(ValueError, match=words):
        helper_days(demo.facts, TODAY, TODAY + timedelta(days=start), TODAY + timedelta(days=end))


def test_the_sheet_names_everyone_warns_and_sends_people_to_help(demo):
    last = TODAY + timedelta(days=6)
    sheet = HelperSheet(keeper="Robin", facts=demo.facts, today=TODAY, first=TODAY, last=last)
    words = text_of(helper_pages(sheet, KeeperSettings()))
    assert all(one.specimen.tag in words for one in demo.facts)
    # the first aid lines that general practice asks for: common practice, no source
    for line in ("emergency number at once", "eye doctor the same day", "then the vet", "common practice"):
        assert line in words
    assert "strong venom" in words
    assert words.count("No food:") == 7


def test_an_empty_shelf_has_no_sheet():
    with pytest.raises(ValueError, match="nobody"):
        helper_pages(
            HelperSheet(keeper="R", facts=(), today=TODAY, first=TODAY, last=TODAY), KeeperSettings()
        )
