"""Wall times against zoneinfo, python-dateutil, RFC 5545 and the published changes of clocks."""

from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from dateutil import tz as dateutil_tz
from hypothesis import example, given, settings
from hypothesis import strategies as st

from bot.clock.walltime import (
    end_of_quiet,
    is_quiet,
    next_by_rule,
    next_round,
    next_wall_time,
)
from bot.terms import KeeperSettings, local_day
from bot.terms.keeper import as_round_hours
from bot.terms.recurrence import every
from bot.terms.walltime import instant_of

ODD_ZONES = (
    "Africa/Cairo",
    "Africa/Casablanca",
    "America/Havana",
    "America/Los_Angeles",
    "America/New_York",
    "America/Nuuk",
    "America/Santiago",
    "America/St_Johns",
    "Asia/Beirut",
    "Asia/Kathmandu",
    "Asia/Tehran",
    "Australia/Lord_Howe",
    "Europe/Berlin",
    "Europe/London",
    "Pacific/Apia",
    "Pacific/Chatham",
)
#: Hours at which clocks are changed somewhere, and ordinary ones.
WALLS = (time(0, 0), time(0, 15), time(0, 59), time(1, 30), time(2, 30), time(8, 0), time(23, 45))


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def moments(first, last):
    bounds = {"min_value": datetime.fromisoformat(first), "max_value": datetime.fromisoformat(last)}
    return st.datetimes(**bounds, timezones=st.just(UTC))


@pytest.mark.parametrize(
    ("zone", "local", "instant"),
    [
        # RFC 5545 section 3.3.5 gives both New York days of 2007 as its examples
        pytest.param("America/New_York", "2007-11-04T01:30", "2007-11-04T05:30", id="rfc overlap"),
        pytest.param("America/New_York", "2007-03-11T02:30", "2007-03-11T07:30", id="rfc gap"),
        # the changes of 2026 as in the IANA time zone database, release 2026
        pytest.param("America/New_York", "2026-03-08T02:30", "2026-03-08T07:30", id="New York gap"),
        pytest.param("America/New_York", "2026-11-01T01:30", "2026-11-01T05:30", id="New York overlap"),
        pytest.param("Europe/Berlin", "2026-03-29T02:30", "2026-03-29T01:30", id="Berlin gap"),
        pytest.param("Europe/Berlin", "2026-10-25T02:30", "2026-10-25T00:30", id="Berlin overlap"),
        pytest.param("Australia/Sydney", "2026-10-04T02:30", "2026-10-03T16:30", id="Sydney gap"),
    ],
)
def test_gap_takes_the_offset_before_and_overlap_the_first_occurrence(zone, local, instant):
    moment = datetime.fromisoformat(local)
    assert instant_of(moment.date(), moment.time(), zone) == utc(instant)


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        ("America/New_York", date(2026, 3, 7), 23),
        ("America/New_York", date(2026, 10, 31), 25),
        ("Australia/Lord_Howe", date(2026, 10, 3), 23.5),
        ("Asia/Tokyo", date(2026, 3, 7), 24),
    ],
)
def test_from_eight_to_eight_is_as_long_as_that_night(zone, day, hours):
    evening = instant_of(day, time(20), zone)
    assert next_wall_time(evening, time(20), zone) - evening == timedelta(hours=hours)


@pytest.mark.parametrize("zone", ODD_ZONES)
@pytest.mark.parametrize("wall", WALLS)
def test_every_date_of_ten_years_has_one_round_at_its_wall_time(zone, wall):
    here, there = ZoneInfo(zone), dateutil_tz.gettz(zone)
    moment, last = utc("2019-12-30T12:00"), utc("2030-01-02T12:00")
    days = []
    while moment < last:
        moment = next_wall_time(moment, wall, zone)
        local = moment.astimezone(here)
        if local.time().replace(fold=0) != wall:  # only a gap may move it
            day = local.date() if local.time() > wall else local.date() - timedelta(days=1)
            before_gap = moment - timedelta(hours=4)
            assert local.utcoffset() > before_gap.astimezone(here).utcoffset()
            assert not dateutil_tz.datetime_exists(datetime.combine(day, wall), there)
        else:
            day = local.date()
            assert local.fold == 0
            # dateutil as the second opinion on the offset of that wall time
            assert datetime.combine(day, wall, tzinfo=there).astimezone(UTC) == moment
        days.append(day)
    assert all(later - earlier == timedelta(days=1) for earlier, later in pairwise(days))


@given(
    moments("2000-01-01", "2037-01-01"),
    st.times().map(lambda t: t.replace(fold=0)),
    st.sampled_from(ODD_ZONES),
)
@example(utc("2011-12-29T20:00"), time(8), "Pacific/Apia")  # Samoa had no 30 December 2011 (IANA database)
@settings(max_examples=300, deadline=None)
def test_the_next_one_is_later_and_none_lies_between(after, wall, zone):
    found = next_wall_time(after, wall, zone)
    assert after < found <= after + timedelta(hours=50)
    days = {after.astimezone(ZoneInfo(zone)).date() + timedelta(days=n) for n in range(-2, 4)}
    assert not [d for d in days if after < instant_of(d, wall, zone) < found]


MINUTES = st.times().map(lambda t: t.replace(second=0, microsecond=0, fold=0))
HOURS = st.dictionaries(st.integers(0, 6), MINUTES)


@given(
    moments("2000-01-01", "2037-01-01"),
    MINUTES,
    HOURS,
    st.sampled_from([time(0), time(4)]),
    st.sampled_from(ODD_ZONES),
)
@example(utc("2011-12-29T20:00"), time(8), {5: time(9)}, time(0), "Pacific/Apia")
@settings(max_examples=300, deadline=None)
def test_with_hours_of_their_own_each_of_the_keepers_days_has_one_round_at_its_hour(
    after, wall, hours, starts, zone
):
    chosen = KeeperSettings(zone=zone, round_time=wall, day_starts=starts, round_hours=as_round_hours(hours))
    found = next_round(after, chosen)
    assert after < found <= after + timedelta(hours=74)
    day = chosen.day_of(after)
    around = {day + timedelta(days=n): chosen.round_on(day + timedelta(days=n)) for n in range(-2, 5)}
    assert found in around.values()
    assert not [moment for moment in around.values() if after < moment < found]
    there = dateutil_tz.gettz(zone)
    for kept, moment in around.items():
        at = hours.get(kept.weekday(), wall)
        wanted = datetime.combine(kept + timedelta(days=at < starts), at)
        if dateutil_tz.datetime_exists(wanted, there):  # dateutil as the second opinion
            assert wanted.replace(tzinfo=there).astimezone(UTC) == moment


def test_the_day_that_samoa_left_out_brings_one_round_and_not_two():
    first = next_wall_time(utc("2011-12-29T00:00"), time(8), "Pacific/Apia")
    second = next_wall_time(first, time(8), "Pacific/Apia")
    assert second - first == timedelta(days=1)
    assert [local_day(x, "Pacific/Apia") for x in (first, second)] == [date(2011, 12, 29), date(2011, 12, 31)]


@pytest.mark.parametrize(
    ("local", "starts", "day"),
    [
        ("2026-03-04T00:20", time(4), date(2026, 3, 3)),
        ("2026-03-04T04:00", time(4), date(2026, 3, 4)),
        ("2026-03-04T00:20", time(0), date(2026, 3, 4)),
    ],
)
def test_a_day_begins_at_the_hour_the_keeper_set(local, starts, day):
    at = datetime.fromisoformat(local).replace(tzinfo=ZoneInfo("Europe/Berlin"))
    assert local_day(at, "Europe/Berlin", starts) == day


@pytest.mark.parametrize(
    ("wall", "quiet"),
    [("21:59", False), ("22:00", True), ("23:30", True), ("03:00", True), ("06:59", True), ("07:00", False)],
)
def test_quiet_hours_span_midnight_and_end_on_the_minute(wall, quiet):
    at = datetime.fromisoformat(f"2026-03-13T{wall}").replace(tzinfo=ZoneInfo("Europe/Berlin"))
    assert is_quiet(at, time(22), time(7), "Europe/Berlin") is quiet
    ends = end_of_quiet(at, time(22), time(7), "Europe/Berlin").astimezone(ZoneInfo("Europe/Berlin"))
    assert ends == at if not quiet else ends.time() == time(7)


def test_equal_ends_mean_no_quiet_hours():
    assert not is_quiet(utc("2026-03-13T07:00"), time(7), time(7), "UTC")


@given(
    moments("2020-01-01", "2030-01-01"),
    st.sampled_from(ODD_ZONES),
    st.times().map(lambda t: t.replace(fold=0)),
    st.times().map(lambda t: t.replace(fold=0)),
)
@settings(max_examples=200, deadline=None)
def test_the_end_of_quiet_is_never_quiet_and_never_earlier(at, zone, quiet_from, quiet_to):
    ends = end_of_quiet(at, quiet_from, quiet_to, zone)
    assert at <= ends <= at + timedelta(hours=50)
    assert not is_quiet(ends, quiet_from, quiet_to, zone)


def test_every_seven_days_stays_at_eight_through_the_change_of_clocks():
    zone, first = "Europe/Berlin", date(2026, 10, 20)
    moment, seen = utc("2026-10-19T00:00"), []
    for _ in range(3):
        moment = next_by_rule(moment, first, every(7), lambda _day: time(8), zone)
        seen.append(moment.astimezone(ZoneInfo(zone)).replace(tzinfo=None).isoformat())
    assert seen == ["2026-10-20T08:00:00", "2026-10-27T08:00:00", "2026-11-03T08:00:00"]


def test_every_ten_days_as_the_rfc_counts_them():
    # RFC 5545 section 3.8.5.3: FREQ=DAILY;INTERVAL=10;COUNT=5 from 2 September 1997, 9:00 in New York
    moment, seen = utc("1997-09-01T00:00"), []
    for _ in range(5):
        moment = next_by_rule(moment, date(1997, 9, 2), every(10), lambda _day: time(9), "America/New_York")
        seen.append(local_day(moment, "America/New_York"))
        assert moment.astimezone(ZoneInfo("America/New_York")).time() == time(9)
    assert seen == [date(1997, 9, d) for d in (2, 12, 22)] + [date(1997, 10, d) for d in (2, 12)]


def test_days_missed_are_passed_over():
    assert next_by_rule(
        utc("2026-03-13T10:00"), date(2026, 3, 1), every(3), lambda _day: time(8), "UTC"
    ) == utc("2026-03-16T08:00")
