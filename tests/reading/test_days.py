"""Days in what keepers write: now is …, the message, what it means. Dates by the calendar of ISO 8601."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading.days import DaySpan, Moment, Strength, find_days
from bot.reading.words.scan import Words
from bot.terms import DateOrder


def days(
    text: str, now: str, *, order: str = "dmy", facing: str = "past", zone: str = "Europe/Berlin"
) -> list[DaySpan]:
    moment = datetime.fromisoformat(now).replace(tzinfo=ZoneInfo(zone))
    return find_days(Words(text), Moment(moment, DateOrder(order), facing))


def only(text: str, now: str, **said: str) -> DaySpan:
    found = days(text, now, **said)
    assert len(found) == 1, found
    return found[0]


WEDNESDAY = "2026-03-04T09:00"


@pytest.mark.parametrize(
    ("now", "text", "day"),
    [
        (WEDNESDAY, "fed Ink today", "2026-03-04"),
        (WEDNESDAY, "fed Ink yesterday", "2026-03-03"),
        (WEDNESDAY, "fed Ink yday", "2026-03-03"),
        (WEDNESDAY, "the day before yesterday Ink ate", "2026-03-02"),
        (WEDNESDAY, "fed Ink last night", "2026-03-03"),
        (WEDNESDAY, "Ink molted overnight", "2026-03-04"),
        (WEDNESDAY, "found an exuvia this morning", "2026-03-04"),
        (WEDNESDAY, "found Twig dead this am", "2026-03-04"),
        (WEDNESDAY, "yesterday evening fed Ink", "2026-03-03"),
        (WEDNESDAY, "molted three weeks ago", "2026-02-11"),
        (WEDNESDAY, "molted 3wks ago", "2026-02-11"),
        (WEDNESDAY, "fed a fortnight ago", "2026-02-18"),
        (WEDNESDAY, "fed a week ago", "2026-02-25"),
        (WEDNESDAY, "fed May on Sunday", "2026-03-01"),
        (WEDNESDAY, "fed Ink on Tuesday", "2026-03-03"),
        (WEDNESDAY, "last thursday fed Ink", "2026-02-26"),
        (WEDNESDAY, "sat morning fed Saffron", "2026-02-28"),
        (WEDNESDAY, "last wednesday fed Ink", "2026-02-25"),
        (WEDNESDAY, "fed on the 1st", "2026-03-01"),
        (WEDNESDAY, "molted the 12th", "2026-02-12"),
        (WEDNESDAY, "sealed on the 31st", "2026-01-31"),
        (WEDNESDAY, "on the 4th Ink ate", "2026-03-04"),
        (WEDNESDAY, "molted 3rd may", "2025-05-03"),
        (WEDNESDAY, "molted dec 30", "2025-12-30"),
        (WEDNESDAY, "Monday the 2nd fed Ink", "2026-03-02"),
        (WEDNESDAY, "Tuesday 3rd of March fed Ink", "2026-03-03"),
        (WEDNESDAY, "3/2 Ink refused", "2026-02-03"),
        (WEDNESDAY, "molted 2026-02-09", "2026-02-09"),
        (WEDNESDAY, "molted 10 May '24", "2024-05-10"),
        (WEDNESDAY, "molted May 10, 2025", "2025-05-10"),
        (WEDNESDAY, "molted 10-May-2025", "2025-05-10"),
        (WEDNESDAY, "ate on Christmas Eve", "2025-12-24"),
        ("2026-01-02T10:00", "fed monday", "2025-12-29"),
        ("2026-01-02T10:00", "molted dec 30", "2025-12-30"),
        ("2027-01-02T09:00", "Ink had a roach 30 Dec", "2026-12-30"),
        ("2026-05-14T19:30", "3/5 Ink refused", "2026-05-03"),
        ("2028-03-04T10:30", "Saffron moulted 29/2", "2028-02-29"),
        ("2028-03-01T12:00", "yesterday watered C", "2028-02-29"),
        ("2029-01-10T12:00", "molted 29 feb", "2028-02-29"),
        ("2026-03-30T08:00", "Ink ate the day before yesterday", "2026-03-28"),
        ("2026-05-18T00:20", "a couple of minutes ago", "2026-05-18"),
        ("2026-03-04T00:20", "an hour ago Ink ate", "2026-03-03"),
    ],
)
def test_words_of_the_past_mean_a_day(now, text, day):
    span = only(text, now)
    assert (span.day, span.doubt, span.time) == (date.fromisoformat(day), None, None)


@pytest.mark.parametrize(
    ("now", "text", "day"),
    [
        ("2026-05-17T00:20", "Ink ate tonight", "2026-05-16"),
        ("2027-01-01T00:15", "this evening fed the commune", "2026-12-31"),
        ("2026-10-25T01:30", "fed Dottie tonight", "2026-10-24"),
        ("2026-03-05T00:30", "this afternoon fed Ink", "2026-03-04"),
        ("2026-03-05T03:59", "fed tonight", "2026-03-04"),
        ("2026-03-05T17:00", "fed tonight", "2026-03-05"),
        ("2026-03-05T00:30", "molted overnight", "2026-03-05"),
        ("2026-03-05T00:30", "fed yesterday", "2026-03-04"),
    ],
)
def test_after_midnight_the_evening_is_the_one_just_gone(now, text, day):
    span = only(text, now)
    assert (span.day, span.doubt) == (date.fromisoformat(day), None)


@pytest.mark.parametrize(
    ("now", "text", "doubt", "options"),
    [
        (WEDNESDAY, "fed Rosie wednesday", "same_weekday", ["2026-03-04", "2026-02-25"]),
        ("2026-03-05T00:30", "thursday", "same_weekday", ["2026-03-05", "2026-02-26"]),
        (WEDNESDAY, "wednesday night fed Ink", "same_weekday", ["2026-03-04", "2026-02-25"]),
        ("2026-03-05T00:30", "this morning I misted", "two_days_fit", ["2026-03-04", "2026-03-05"]),
        ("2026-03-05T00:30", "last night", "two_days_fit", ["2026-03-04", "2026-03-03"]),
        (WEDNESDAY, "fed Ink this evening", "later_than_now", ["2026-03-03", "2026-03-04"]),
        (WEDNESDAY, "a couple of days ago", "vague_day", ["2026-03-02", "2026-03-01"]),
        (WEDNESDAY, "2-3 days ago", "vague_day", ["2026-03-02", "2026-03-01"]),
        (WEDNESDAY, "about 3 weeks ago", "vague_day", ["2026-02-11"]),
        (WEDNESDAY, "2 months ago", "vague_day", ["2026-01-04"]),
        (WEDNESDAY, "a few days ago", "vague_day", []),
        (WEDNESDAY, "the other day", "vague_day", []),
        (WEDNESDAY, "last week", "vague_day", []),
        (WEDNESDAY, "sometime in April", "vague_day", []),
        (WEDNESDAY, "back in May", "vague_day", []),
        (WEDNESDAY, "early June", "vague_day", []),
        (WEDNESDAY, "at the weekend", "vague_day", ["2026-02-28", "2026-03-01"]),
        ("2026-03-01T20:00", "over the weekend", "vague_day", ["2026-02-28", "2026-03-01"]),
        (WEDNESDAY, "friday or saturday", "two_days_fit", ["2026-02-27", "2026-02-28"]),
        (WEDNESDAY, "molted 29 feb", "impossible_day", []),
        (WEDNESDAY, "31 april", "impossible_day", []),
        (WEDNESDAY, "ate on 30 Feb", "impossible_day", []),
        (WEDNESDAY, "ate 2026-02-30", "impossible_day", []),
        (WEDNESDAY, "ate on 5/14", "impossible_day", ["2025-05-14"]),
        (WEDNESDAY, "molted 2026-04-03", "future_day", []),
        (WEDNESDAY, "fed on 3/6/2026", "future_day", []),
        ("2026-05-14T19:32", "fed on 3/6/2026", "future_day", ["2026-03-06"]),
        (WEDNESDAY, "fed tomorrow", "future_day", []),
        (WEDNESDAY, "Sunday 3 March fed", "weekday_differs", ["2026-03-03", "2026-03-01"]),
    ],
)
def test_what_may_be_another_day_is_in_doubt_with_days_to_choose_from(now, text, doubt, options):
    span = only(text, now)
    assert (span.doubt, [str(day) for day in span.options]) == (doubt, options)


@pytest.mark.parametrize(
    ("now", "text", "day", "doubt"),
    [
        (WEDNESDAY, "remind me tomorrow", "2026-03-05", None),
        (WEDNESDAY, "remind me the day after tomorrow", "2026-03-06", None),
        (WEDNESDAY, "remind me monday", "2026-03-09", None),
        ("2026-05-30T12:00", "remind me monday", "2026-06-01", None),
        (WEDNESDAY, "on the 14th", "2026-03-14", None),
        (WEDNESDAY, "on the 3rd", "2026-04-03", None),
        (WEDNESDAY, "on 1 June", "2026-06-01", None),
        (WEDNESDAY, "on 1 March", "2027-03-01", None),
        (WEDNESDAY, "saturday week", "2026-03-14", None),
        (WEDNESDAY, "in the morning", "2026-03-05", None),
        (WEDNESDAY, "tonight", "2026-03-04", None),
        (WEDNESDAY, "wednesday", "2026-03-11", "same_weekday"),
        (WEDNESDAY, "next friday", "2026-03-13", "two_days_fit"),
        (WEDNESDAY, "next week", "2026-03-09", "vague_day"),
        (WEDNESDAY, "29 feb", None, "impossible_day"),
        ("2026-12-30T12:00", "on 2 January", "2027-01-02", None),
    ],
)
def test_words_of_a_plan_mean_the_next_such_day(now, text, day, doubt):
    span = only(text, now, facing="future")
    assert (span.day and str(span.day), span.doubt) == (day, doubt)


def test_next_friday_offers_both_fridays():
    span = only("remind me next friday to clean box 4", WEDNESDAY, facing="future")
    assert set(span.options) == {date(2026, 3, 6), date(2026, 3, 13)}


def test_a_reminder_for_a_past_date_is_in_doubt_and_for_today_is_not():
    assert only("on 3/3/26", WEDNESDAY, order="mdy", facing="future").doubt == "past_day"
    today = only("on 3/4/26", WEDNESDAY, order="mdy", facing="future")
    assert (today.day, today.doubt) == (date(2026, 3, 4), None)


def test_day_and_month_follow_the_keepers_order_and_iso_follows_itself():
    assert only("02/03/2026", WEDNESDAY, order="dmy").day == date(2026, 3, 2)
    assert only("02/03/2026", WEDNESDAY, order="mdy").day == date(2026, 2, 3)
    assert only("26/02/03", WEDNESDAY, order="ymd").day == date(2026, 2, 3)
    for order in ("dmy", "mdy", "ymd"):
        assert only("2026-02-03", WEDNESDAY, order=order).day == date(2026, 2, 3)


@pytest.mark.parametrize(
    "text",
    [
        "fed T12 and T13",
        "10-12 flies",
        "fed #12 2 crickets",
        "2 of 3 ate",
        "fed 3/5 of the group",
        "cup 2026",
        "Julian shed",
        "fed Monty and Sunny",
        "Augustus and Octavia ate",
        "decided not to feed",
        "to do are bar on: set son",
        "GBB 2 may be in premolt",
        "Ink may refuse",
        "Saffron sat on her dish all day",
        "B-3 ate",
        "1/2 cricket for Dot",
        "3rd instar sling",
        "fed 2 crickets",
        "GBBs 1 & 3 moulted",
        "a male, 1.0.2",
        "L3 is missing",
        "marched off",
        "every monday",
        "24.5C 61%",
        "5 in of substrate",
        "x2",
        "the second leg",
        "May",
        "she may",
        "7.5.",
        "at 8 cm",
        "fed at 26 degrees",
        "1) Biscuit",
        "R2-04 molted",
        "Moss 1 and 2 misted",
        "fed sunny",
        "T1-T5",
        "5-6 crix each",
        "put her in the sun",
        "two tone",
        "no.3",
        "£3/5",
        "A1/A2 ate",
        "first meal since November",
        "fed May 3 crickets",
    ],
)
def test_other_words_and_figures_are_no_days(text):
    assert days(text, WEDNESDAY) == []


@pytest.mark.parametrize(
    ("text", "strength"),
    [
        ("fed Ink yesterday", Strength.CERTAIN),
        ("fed Ink on Friday", Strength.CERTAIN),
        ("molted 10 May", Strength.CERTAIN),
        ("3/5 Ink refused", Strength.CERTAIN),
        ("Ink refused on 3/5", Strength.CERTAIN),
        ("sat morning fed Ink", Strength.CERTAIN),
        ("2026-02-09 Ink", Strength.CERTAIN),
        ("at 9.15pm Ink ate", Strength.CERTAIN),
        ("Ink refused 29/1", Strength.LIKELY),
        ("molted dec 30", Strength.LIKELY),
        ("fed May 3", Strength.WEAK),
        ("fed Ink friday", Strength.WEAK),
        ("fed the 3rd", Strength.WEAK),
        ("fed Ink at 8", Strength.WEAK),
        ("gave her 1/2", Strength.WEAK),
    ],
)
def test_strength_tells_how_surely_words_are_a_day(text, strength):
    assert only(text, WEDNESDAY).strength is strength


def test_the_keepers_zone_says_which_day_it_is():
    assert only("fed yesterday", WEDNESDAY, zone="Pacific/Auckland").day == date(2026, 3, 3)
    assert only("fed yesterday", "2026-03-03T18:30", zone="America/Los_Angeles").day == date(2026, 3, 2)


def test_two_days_in_one_message_are_two_spans():
    found = days("Monday: fed A. Tuesday: watered A", "2026-05-14T19:00")
    assert [str(span.day) for span in found] == ["2026-05-11", "2026-05-12"]


def test_always_is_no_date_to_be_stored_unasked():
    assert only("heat mat on 24/7 now", WEDNESDAY).doubt == "vague_day"
    assert only("24/7 heat", WEDNESDAY).doubt == "vague_day"
