"""Lengths of time and repetitions, seen on Wednesday 2026-03-04 at 09:00 in London."""

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from bot.reading.days import Moment, Period, find_periods
from bot.reading.words.scan import Words
from bot.terms import DateOrder

NOW = datetime(2026, 3, 4, 9, tzinfo=ZoneInfo("Europe/London"))


def periods(text: str, now: datetime = NOW, language: str = "en") -> list[Period]:
    return find_periods(Words(text), Moment(now, DateOrder.DMY), language)


def only(text: str, now: datetime = NOW) -> Period:
    found = periods(text, now)
    assert len(found) == 1, found
    return found[0]


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("water the slings every 3 days", 3),
        ("every other day", 2),
        ("every second day", 2),
        ("every day", 1),
        ("daily", 1),
        ("weekly", 7),
        ("every week", 7),
        ("every two weeks", 14),
        ("every other week", 14),
        ("every fortnight", 14),
        ("fortnightly", 14),
        ("every third day", 3),
        ("once a week", 7),
        ("every 10days", 10),
        ("every monday", 7),
        ("each morning", 1),
        ("every evening", 1),
    ],
)
def test_a_repetition_has_its_rhythm_in_days(text, days):
    period = only(text)
    assert (period.kind, period.days, period.every_days, period.doubt) == ("every", days, days, None)


def test_every_weekday_begins_with_the_next_one():
    assert only("every monday").day == date(2026, 3, 9)


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("every 3-4 days", "vague_length"),
        ("every few days", "vague_length"),
        ("monthly", "month_length"),
        ("every 2 months", "month_length"),
    ],
)
def test_a_rhythm_not_said_in_days_is_in_doubt(text, doubt):
    assert only(text).doubt == doubt


@pytest.mark.parametrize(
    ("text", "kind", "days", "day"),
    [
        ("in 10 days", "in", 10, "2026-03-14"),
        ("in 3 weeks", "in", 21, "2026-03-25"),
        ("in 1 days", "in", 1, "2026-03-05"),
        ("in 5 day", "in", 5, "2026-03-09"),
        ("in a week", "in", 7, "2026-03-11"),
        ("a week today", "in", 7, "2026-03-11"),
        ("2 weeks from now", "in", 14, "2026-03-18"),
        ("in a month", "in", 30, "2026-04-04"),
        ("for 2 weeks", "for", 14, "2026-03-18"),
        ("for the next 10 days", "for", 10, "2026-03-14"),
        ("for a fortnight", "for", 14, "2026-03-18"),
        ("for another week", "for", 7, "2026-03-11"),
        ("hasn't eaten in over 3 weeks", "in", 21, "2026-03-25"),
        ("over 3 weeks", "for", 21, "2026-03-25"),
    ],
)
def test_a_stretch_has_its_length_and_the_day_it_leads_to(text, kind, days, day):
    period = only(text)
    assert (period.kind, period.days, period.until, period.doubt) == (
        kind,
        days,
        date.fromisoformat(day),
        None,
    )


@pytest.mark.parametrize(
    ("text", "day", "doubt"),
    [
        ("until 1 June", "2026-06-01", None),
        ("till July 10", "2026-07-10", None),
        ("till 20/7", "2026-07-20", None),
        ("until the 10th", "2026-03-10", None),
        ("until sunday", "2026-03-08", None),
        ("until tomorrow", "2026-03-05", None),
        ("until 29 feb", None, "impossible_day"),
        ("until 1/2/26", "2026-02-01", "past_day"),
        ("until next friday", "2026-03-13", "two_days_fit"),
    ],
)
def test_until_takes_the_next_such_day(text, day, doubt):
    period = only(f"no prompts for Ink {text} please")
    assert (period.kind, period.until and str(period.until), period.doubt) == ("until", day, doubt)


def test_since_takes_the_latest_such_day_and_a_month_its_first_with_a_doubt():
    assert only("not eaten since friday").day == date(2026, 2, 27)
    month = only("not eaten since November")
    assert (month.kind, month.day, month.doubt) == ("since", date(2025, 11, 1), "vague_day")


def test_hours_ahead_are_counted_on_the_absolute_clock():
    # London skips 01:00 to 02:00 on 2026-03-29 (tzdata)
    night = datetime(2026, 3, 29, 0, 30, tzinfo=ZoneInfo("Europe/London"))
    period = only("in 2 hours", night)
    assert (period.day, period.time, period.days) == (date(2026, 3, 29), time(3, 30), None)


@pytest.mark.parametrize(
    "text",
    [
        "in 2 blorps",
        "every 3 moons",
        "until she molts",
        "since his last meal",
        "for 2 slings",
        "in the tub",
        "every animal",
        "every 0 days",
    ],
)
def test_other_words_give_no_period(text):
    assert periods(text) == []


# Day counts by the calendar of ISO 8601: 2025-12-15 to 2026-03-01 is 76 days, 2024-01-31 to 2024-03-01 is 30
@pytest.mark.parametrize(
    ("now", "days", "day"), [("2025-12-15", 76, "2026-03-01"), ("2024-01-31", 30, "2024-03-01")]
)
def test_days_ahead_cross_months_years_and_leap_days(now, days, day):
    moment = datetime.fromisoformat(f"{now}T12:00").replace(tzinfo=ZoneInfo("Europe/London"))
    assert only(f"in {days} days", moment).day == date.fromisoformat(day)
