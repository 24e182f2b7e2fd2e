"""The day of a keeper who is up late: what words mean after midnight while it is still the day before.

That a late evening belongs to the day it began on is the keeper's own setting; the meanings are common
practice, no source. The week: Wed 13, Thu 14, Fri 15 May 2026.
"""

import re
from datetime import date, datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

import bot.reading
from bot.reading import read
from bot.reading.days import Moment, find_days
from bot.reading.words.scan import Words
from bot.terms import DateOrder, KeeperSettings
from tests.reading.corpus import corpus

ZONE = ZoneInfo("Europe/Dublin")
STARTS = time(4)
LATE = "2026-05-15T01:30"
EVENING = "2026-05-14T20:00"


def only(text, now, facing="past", starts=STARTS):
    moment = datetime.fromisoformat(now).replace(tzinfo=ZONE)
    (found,) = find_days(Words(text), Moment(moment, DateOrder.DMY, facing, starts))
    return found


@pytest.mark.parametrize(
    ("now", "text", "day"),
    [
        (LATE, "fed today", "14"),
        (LATE, "fed tonight", "14"),
        (LATE, "fed this evening", "14"),
        (LATE, "fed this morning", "14"),
        (LATE, "fed yesterday", "13"),
        (LATE, "fed yesterday evening", "13"),
        (LATE, "fed 2 days ago", "12"),
        (LATE, "fed an hour ago", "14"),
        (LATE, "fed 3 hours ago", "14"),
        (LATE, "fed at 1am", "14"),
        (LATE, "fed today at 1am", "14"),
        (LATE, "fed at 11pm", "14"),
        (LATE, "fed at 11", "14"),
        (LATE, "fed tonight at 1", "14"),
        (LATE, "fed on Wednesday", "13"),
        (LATE, "fed 13 May", "13"),
        (EVENING, "fed at 1am", "13"),
        (EVENING, "fed at 1am last night", "13"),
        (EVENING, "fed last night", "13"),
        ("2026-05-15T09:00", "fed at 1am", "14"),
        ("2026-05-15T09:00", "fed last night at 11", "14"),
    ],
)
def test_what_was_is_told_of_the_keepers_day(now, text, day):
    found = only(text, now)
    assert (f"{found.day:%d}", found.doubt) == (day, None)


@pytest.mark.parametrize(
    ("now", "text", "doubt", "days"),
    [
        (LATE, "fed last night", "two_days_fit", ["13", "14"]),
        (LATE, "fed on Thursday", "same_weekday", ["14", "07"]),
        (LATE, "fed on Friday", "day_not_begun", ["14", "08"]),
        (LATE, "fed 2026-05-15", "day_not_begun", ["14"]),
        (LATE, "fed on the 15th", "day_not_begun", ["14", "15"]),
        (LATE, "fed 15 May", "day_not_begun", ["14", "15"]),
        (LATE, "fed on Friday 15 May", "day_not_begun", ["14"]),
        (EVENING, "fed yesterday at 1am", "two_days_fit", ["13", "12"]),
        (EVENING, "fed today at 1am", "two_days_fit", ["14", "13"]),
    ],
)
def test_a_day_that_may_be_either_is_asked(now, text, doubt, days):
    found = only(text, now)
    assert (found.doubt, [f"{day:%d}" for day in found.options][: len(days)]) == (doubt, days)
    assert max(found.options) <= date(2026, 5, 14)


@pytest.mark.parametrize(
    ("now", "text", "moment"),
    [
        (LATE, "at 9", "2026-05-15T09:00"),
        (LATE, "at 3am", "2026-05-15T03:00"),
        (LATE, "tonight at 3", "2026-05-15T03:00"),
        (LATE, "today at 3am", "2026-05-15T03:00"),
        (LATE, "tomorrow at 9", "2026-05-15T09:00"),
        (LATE, "tomorrow at 9pm", "2026-05-15T21:00"),
        (LATE, "on Friday at 9", "2026-05-15T09:00"),
        (EVENING, "tonight at 2", "2026-05-15T02:00"),
        (EVENING, "tomorrow night at 2", "2026-05-16T02:00"),
        (EVENING, "tomorrow at 9", "2026-05-15T09:00"),
    ],
)
def test_a_time_to_come_is_the_next_on_the_wall(now, text, moment):
    found = only(text, now, "future")
    assert found.doubt is None
    assert datetime.combine(found.day, found.time) == datetime.fromisoformat(moment)


def test_a_time_after_midnight_of_a_day_to_come_is_asked_about():
    found = only("tomorrow at 2am", EVENING, "future")
    assert (found.doubt, [f"{day:%d}" for day in found.options]) == ("two_days_fit", ["15", "16"])


def test_tomorrow_is_the_day_that_has_not_begun():
    assert f"{only('tomorrow', LATE, 'future').day:%d}" == "15"


def test_a_day_that_begins_at_midnight_ends_there():
    assert f"{only('fed today', LATE, starts=time(0)).day:%d}" == "15"


@pytest.mark.parametrize("text", ["fed Ink 1 cricket", "fed Ink 1 cricket at 1am", "Ink ate tonight"])
def test_an_entry_told_after_midnight_is_of_the_keepers_day(text):
    settings = KeeperSettings(zone="Europe/Dublin", day_starts=STARTS)
    now = datetime.fromisoformat(LATE).replace(tzinfo=ZONE)
    (entry,) = read(text, corpus("contract").names, now=now, settings=settings).entries
    assert (str(entry.day), entry.time) == ("2026-05-14", None)


def test_reading_takes_the_date_from_the_calendar_in_one_place_alone():
    """The keeper's day is asked for everywhere else; only times to come are counted by the calendar."""
    folder = Path(bot.reading.__file__).parent
    places = {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*.py")
        if re.search(r"\bnow\.date\(\)", path.read_text("utf-8"))
    }
    assert places == {"days/moment.py", "message/parse.py"}
