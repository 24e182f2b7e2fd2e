"""Repetitions, against the worked examples of RFC 5545 §3.8.5.3 and §3.3.10."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.terms.recurrence import days_of, every, first_day, next_day, parts_of


def days(rule, first, count):
    found, day = [], first - timedelta(days=1)
    for _ in range(count):
        day = next_day(rule, first, day)
        found.append(f"{day:%m-%d}")
    return found


@pytest.mark.parametrize(
    ("rule", "first", "expected"),
    [
        ("FREQ=DAILY;INTERVAL=10", date(1997, 9, 2), ["09-02", "09-12", "09-22", "10-02", "10-12"]),
        ("FREQ=MONTHLY;BYDAY=1FR", date(1997, 9, 5), ["09-05", "10-03", "11-07", "12-05", "01-02"]),
        ("FREQ=MONTHLY;BYMONTHDAY=2,15", date(1997, 9, 2), ["09-02", "09-15", "10-02", "10-15", "11-02"]),
        ("FREQ=MONTHLY;BYMONTHDAY=1,-1", date(1997, 9, 30), ["09-30", "10-01", "10-31", "11-01", "11-30"]),
        ("FREQ=MONTHLY;BYMONTHDAY=15,30", date(2007, 1, 15), ["01-15", "01-30", "02-15", "03-15", "03-30"]),
        (
            "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=MO",
            date(1997, 8, 5),
            ["08-05", "08-10", "08-19", "08-24"],
        ),
        (
            "FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,SU;WKST=SU",
            date(1997, 8, 5),
            ["08-05", "08-17", "08-19", "08-31"],
        ),
    ],
)
def test_the_worked_examples_of_the_standard_come_out(rule, first, expected):
    assert days(rule, first, len(expected)) == expected


def test_a_day_that_a_month_does_not_have_is_skipped():
    assert days("FREQ=MONTHLY;BYMONTHDAY=31", date(2026, 1, 31), 4) == ["01-31", "03-31", "05-31", "07-31"]
    assert first_day("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", date(2026, 1, 1)) == date(2028, 2, 29)
    assert first_day("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", date(2026, 1, 1)) is None


@given(st.integers(1, 400), st.dates(date(2000, 1, 1), date(2090, 1, 1)), st.integers(-30, 900))
def test_a_repetition_of_days_comes_on_its_grid(step, first, later):
    day = next_day(every(step), first, first + timedelta(days=later))
    assert days_of(every(step)) == step
    assert day > first + timedelta(days=later)
    assert (day - first).days % step == 0
    assert day == first or day - timedelta(days=step) <= first + timedelta(days=later)


def test_what_is_no_rule_is_refused():
    with pytest.raises(ValueError, match="once a day"):
        every(0)
    with pytest.raises(ValueError, match="FREQ"):
        next_day("FREQ=NEVER", date(2026, 1, 1), date(2026, 1, 1))
    assert parts_of("FREQ=MONTHLY;BYDAY=1SU") == {"FREQ": "MONTHLY", "BYDAY": "1SU"}
