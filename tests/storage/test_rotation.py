"""Which copies are kept: enough to go back by days, weeks and months, and never fewer than asked for."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storage.rotation import Keep, kept

START = date(2025, 11, 3)
keeps = st.builds(Keep, st.integers(1, 10), st.integers(0, 8), st.integers(0, 14))
#: Days on which a copy was made, over about three years, with any gaps.
histories = st.lists(st.integers(0, 1100), min_size=1, max_size=120, unique=True).map(
    lambda numbers: [START + timedelta(days=number) for number in sorted(numbers)]
)


def week(day):
    return f"{day:%G-W%V}"  # ISO 8601 week, by strftime and not by isocalendar


def month(day):
    return f"{day:%Y-%m}"


@given(histories, keeps)
def test_what_is_kept_of_thinned_out_copies_is_what_would_be_kept_of_all(days, keep):
    there = set()
    for day in days:
        there = set(kept(there | {day}, keep))
    assert there == kept(days, keep)


@given(histories, keeps)
def test_the_newest_is_always_kept_and_no_more_than_asked_for(days, keep):
    left = kept(days, keep)
    assert max(days) in left
    assert left <= set(days)
    assert len(left) <= keep.daily + keep.weekly + keep.monthly
    assert len(left) >= min(len(days), keep.daily)


@given(histories, keeps)
def test_the_newest_of_each_of_the_last_weeks_and_months_is_kept(days, keep):
    left = kept(days, keep)
    for period, most in ((week, keep.weekly), (month, keep.monthly)):
        wanted = sorted({period(day) for day in days}, reverse=True)[:most]
        for name in wanted:
            assert max(day for day in days if period(day) == name) in left


def test_after_a_year_of_nightly_copies_a_week_a_month_and_a_year_can_be_gone_back():
    """Counted by hand in a calendar of 2026; 31 December 2026 is a Thursday."""
    days = [date(2026, 1, 1) + timedelta(days=number) for number in range(365)]
    assert sorted(kept(days, Keep(daily=7, weekly=4, monthly=12))) == [
        *(date(2026, month, last) for month, last in ((1, 31), (2, 28), (3, 31), (4, 30), (5, 31), (6, 30))),
        *(date(2026, month, last) for month, last in ((7, 31), (8, 31), (9, 30), (10, 31), (11, 30))),
        *(date(2026, 12, day) for day in (13, 20, 25, 26, 27, 28, 29, 30, 31)),
    ]


@pytest.mark.parametrize("numbers", [(0, 4, 12), (7, -1, 12), (7, 4, -1)])
def test_a_rule_that_would_drop_even_the_newest_copy_is_refused(numbers):
    with pytest.raises(ValueError, match="at least one day"):
        Keep(*numbers)
