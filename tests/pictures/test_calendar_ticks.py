from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from bot.pictures.calendar_ticks import calendar_ticks
from bot.terms import DateOrder

DAYS = st.dates(date(1990, 1, 1), date(2099, 12, 31))


@given(DAYS, st.integers(0, 20_000), st.integers(3, 9), st.sampled_from(DateOrder))
def test_ticks_lie_within_the_axis_in_order_and_leave_each_other_room(first, length, room, order):
    last = first + timedelta(days=length)
    ticks = calendar_ticks(first, last, room, order)
    days = [tick.on for tick in ticks]
    assert days == sorted(set(days))
    assert all(first <= day <= last for day in days)
    assert len(days) <= room


@given(DAYS, st.integers(90, 5_000), st.integers(3, 9))
def test_the_year_is_told_first_and_wherever_it_changes(first, length, room):
    ticks = calendar_ticks(first, first + timedelta(days=length), room, DateOrder.DMY)
    year = None
    for tick in ticks:
        assert tick.year == ("" if tick.on.year == year else str(tick.on.year))
        year = tick.on.year


def test_months_stand_at_their_first_day_and_weeks_on_mondays():
    months = calendar_ticks(date(2025, 1, 10), date(2026, 5, 14), 6, DateOrder.DMY)
    assert [(tick.on, tick.name, tick.year) for tick in months] == [
        (date(2025, 4, 1), "Apr", "2025"),
        (date(2025, 7, 1), "Jul", ""),
        (date(2025, 10, 1), "Oct", ""),
        (date(2026, 1, 1), "Jan", "2026"),
        (date(2026, 4, 1), "Apr", ""),
    ]
    weeks = calendar_ticks(date(2026, 5, 1), date(2026, 5, 31), 6, DateOrder.MDY)
    assert [tick.on.weekday() for tick in weeks] == [0] * 4
    assert weeks[0].name == "May 4"
