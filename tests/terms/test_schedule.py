"""Whom a keeper's word is for, and which months are slow."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.terms import Stage
from bot.terms.schedule import EVERYONE, NOTHING_SAID, Care, Group, Schedule, Scope, SlowMonths

MONTHS = st.integers(1, 12)
NAMES = ("Grammostola pulchra", "Caribena versicolor")
GROUPS = st.one_of(
    st.builds(Group, st.just(Scope.SPECIES), st.sampled_from(NAMES)),
    st.builds(Group, st.just(Scope.STAGE), st.sampled_from([stage.value for stage in Stage])),
    st.just(EVERYONE),
)
SCHEDULES = st.builds(
    Schedule, st.dictionaries(st.tuples(st.sampled_from(Care), GROUPS), st.integers(1, 60), max_size=8)
)


@given(SCHEDULES, st.sampled_from(Care), st.sampled_from(NAMES), st.sampled_from(Stage))
def test_species_stands_before_stage_and_stage_before_all_and_the_other_work_says_nothing(
    schedule, work, species, stage
):
    in_order = [Group(Scope.SPECIES, species), Group(Scope.STAGE, stage.value), EVERYONE]
    days = [schedule.every.get((work, group)) for group in in_order]
    said = schedule.said_for(work, (species,), stage)
    if said is None:
        assert days == [None, None, None]
    else:
        place = in_order.index(said.group)
        assert days[:place] == [None] * place
        assert days[place] == said.days


def test_where_nothing_was_said_nothing_holds():
    assert NOTHING_SAID.said_for(Care.FEED, NAMES, Stage.SLING) is None


@given(MONTHS, MONTHS)
def test_slow_months_are_those_walked_through_from_the_first_to_the_last(first, last):
    walked, month = [first], first
    while month != last:
        month = month % 12 + 1
        walked.append(month)
    slow = SlowMonths(first, last)
    assert [month for month in range(1, 13) if month in slow] == sorted(walked)
    assert len(slow) == len(walked)
    assert slow.is_whole_year == (len(walked) == 12)


@pytest.mark.parametrize(("first", "last"), [(0, 2), (1, 13)])
def test_months_that_there_are_not_are_refused(first, last):
    with pytest.raises(ValueError, match="1 to 12"):
        SlowMonths(first, last)
