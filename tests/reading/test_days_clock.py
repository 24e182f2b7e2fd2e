"""Clock times: which wall time, and of which day. Zones by tzdata; all times are the wall's."""

from datetime import datetime, time
from zoneinfo import ZoneInfo

import pytest

from bot.reading.days import DaySpan, Moment, find_days
from bot.reading.words.scan import Words
from bot.terms import DateOrder


def only(text: str, now: str, facing: str = "past", zone: str = "Europe/London") -> DaySpan:
    moment = datetime.fromisoformat(now).replace(tzinfo=ZoneInfo(zone))
    found = find_days(Words(text), Moment(moment, DateOrder.DMY, facing))
    assert len(found) == 1, found
    return found[0]


LATE = "2026-03-04T21:30"


@pytest.mark.parametrize(
    ("now", "text", "day", "wall"),
    [
        (LATE, "fed at 8", "2026-03-04", "20:00"),
        (LATE, "fed tonight at 8:30", "2026-03-04", "20:30"),
        (LATE, "misted at 9 in the morning", "2026-03-04", "09:00"),
        (LATE, "at 9.15pm Ink took a roach", "2026-03-04", "21:15"),
        (LATE, "at ten this morning", "2026-03-04", "10:00"),
        (LATE, "fed 19:30", "2026-03-04", "19:30"),
        (LATE, "1930h fed Ink", "2026-03-04", "19:30"),
        (LATE, "at noon", "2026-03-04", "12:00"),
        (LATE, "at midnight", "2026-03-04", "00:00"),
        (LATE, "quarter past 7 fed Ink", "2026-03-04", "19:15"),
        (LATE, "quarter to 8 tonight", "2026-03-04", "19:45"),
        (LATE, "at 20 to 9", "2026-03-04", "20:40"),
        (LATE, "at ten past six", "2026-03-04", "18:10"),
        (LATE, "at 8 o'clock", "2026-03-04", "20:00"),
        (LATE, "yesterday at 7pm", "2026-03-03", "19:00"),
        (LATE, "7pm yesterday", "2026-03-03", "19:00"),
        (LATE, "monday 8pm", "2026-03-02", "20:00"),
        (LATE, "2026-03-01 19:30 fed", "2026-03-01", "19:30"),
        (LATE, "last night around 11", "2026-03-03", "23:00"),
        (LATE, "at 1am last night", "2026-03-04", "01:00"),
        ("2026-03-04T09:00", "fed at 8", "2026-03-04", "08:00"),
        ("2026-03-29T10:00", "half nine last night fed Twig", "2026-03-28", "21:30"),
        ("2026-03-05T01:30", "tonight at 1am", "2026-03-05", "01:00"),
        ("2026-03-05T00:30", "tonight at 11", "2026-03-04", "23:00"),
    ],
)
def test_a_time_that_has_been(now, text, day, wall):
    span = only(text, now)
    assert (str(span.day), span.time, span.doubt) == (day, time.fromisoformat(wall), None)


@pytest.mark.parametrize("text", ["yesterday at 8", "half eight yesterday", "monday at 8:30"])
def test_beside_another_day_an_hour_of_either_half_leaves_the_time_open(text):
    span = only(text, LATE)
    assert span.day is not None
    assert (span.time, span.doubt) == (None, None)


@pytest.mark.parametrize(
    ("now", "text", "day", "wall"),
    [
        ("2026-05-12T08:00", "Twig took a roach at 11pm", "2026-05-11", "23:00"),
        ("2026-05-12T00:10", "fed at 23:50", "2026-05-11", "23:50"),
        (LATE, "fed today at 11pm", "2026-03-03", "23:00"),
        (LATE, "tonight at 11", "2026-03-03", "23:00"),
        ("2026-05-12T09:00", "at noon", "2026-05-11", "12:00"),
    ],
)
def test_a_time_later_than_now_is_asked_about_with_yesterday_as_the_guess(now, text, day, wall):
    span = only(text, now)
    assert (span.doubt, str(span.options[0]), span.time) == ("later_than_now", day, time.fromisoformat(wall))


@pytest.mark.parametrize(
    ("now", "text", "day", "wall", "doubt"),
    [
        ("2026-07-16T20:00", "remind me tomorrow at 7pm", "2026-07-17", "19:00", None),
        ("2026-07-16T20:00", "tomorrow at 8", "2026-07-17", "08:00", None),
        ("2026-07-16T20:00", "tomorrow at 4", "2026-07-17", "16:00", None),
        ("2026-07-16T20:00", "tomorrow at 5pm", "2026-07-17", "17:00", None),
        ("2026-07-16T20:00", "tomorrow at 06:59", "2026-07-17", "06:59", None),
        ("2026-07-16T09:00", "at 8", "2026-07-16", "20:00", None),
        ("2026-07-16T21:00", "at 8", "2026-07-17", "08:00", None),
        ("2026-07-16T21:00", "at 19:30", "2026-07-17", "19:30", None),
        ("2026-03-04T23:40", "remind me today at 11pm", "2026-03-04", "23:00", "earlier_than_now"),
        ("2026-07-16T20:00", "friday at 7pm", "2026-07-17", "19:00", None),
    ],
)
def test_a_time_to_come(now, text, day, wall, doubt):
    span = only(text, now, facing="future")
    assert (str(span.day), span.time, span.doubt) == (day, time.fromisoformat(wall), doubt)


@pytest.mark.parametrize("said", ["tomorrow at 5", "tomorrow at 6:59", "friday at 6"])
def test_a_time_to_come_at_which_some_get_up_and_others_come_home_is_asked_about(said):
    span = only(said, "2026-07-16T20:00", facing="future")
    assert (span.doubt, span.time) == ("which_half", None)
    assert [t.hour for t in span.times] in ([5, 17], [6, 18])


# Europe/London skips 01:00 to 02:00 on 2026-03-29 and has it twice on 2026-10-25 (tzdata)
@pytest.mark.parametrize("now", ["2026-03-29T10:00", "2026-10-25T10:00"])
def test_a_wall_time_skipped_or_had_twice_is_still_the_time_said(now):
    span = only("fed at 1:30am", now)
    assert (str(span.day), span.time, span.doubt) == (now[:10], time(1, 30), None)


def test_an_hour_ago_is_counted_through_the_change_of_the_clocks():
    # at 03:10 summer time in London on 2026-03-29, three hours ago it was 23:10 the day before
    assert str(only("3 hours ago", "2026-03-29T03:10").day) == "2026-03-28"


@pytest.mark.parametrize("text", ["at 25:70", "at 13pm", "at 99"])
def test_no_time_of_a_clock_is_no_time(text):
    moment = datetime.fromisoformat(LATE).replace(tzinfo=ZoneInfo("Europe/London"))
    assert all(
        span.time is None or span.time == time(13)
        for span in find_days(Words(text), Moment(moment, DateOrder.DMY))
    )
