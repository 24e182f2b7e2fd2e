"""Faults of date readers, replayed on messages. ``source`` names the public threads that told of each."""

from __future__ import annotations

import threading
from datetime import date, datetime, time, timedelta

import pytest

from bot.reading import ShelfNames, read
from bot.terms import DateOrder, KeeperSettings
from tests.faults.house import SHELF, named

WEDNESDAY = "2026-03-04T09:00"


@pytest.mark.parametrize(
    ("name", "text", "day"),
    [
        ("May", "fed May", "2026-03-04"),
        ("May", "may fed yesterday", "2026-03-03"),
        ("May", "fed May on Sunday", "2026-03-01"),
        ("April", "April ate", "2026-03-04"),
        ("Friday", "Friday ate on Monday", "2026-03-02"),
        ("Sunday", "Sunday refused", "2026-03-04"),
        ("August", "fed August yesterday", "2026-03-03"),
        ("March", "March molted 2 days ago", "2026-03-02"),
        ("Dawn", "fed Dawn this morning", "2026-03-04"),
    ],
)
def test_an_animals_name_is_no_day_or_month(home, name, text, day):
    """source: wanasit/chrono#518; akoumjian/datefinder#56; MycroftAI/mycroft-core#2187"""
    house = home(now=WEDNESDAY, shelf=[named("M1", name), *SHELF])
    house.says(text)
    assert [(tag, told) for tag, _, told in house.told_of()] == [("M1", day)]


@pytest.mark.parametrize(
    "text",
    ["10-12 flies", "fed #12 2 crickets", "2 of 3 ate", "fed 3/5 of the group", "cup 2026", "rack 2 box 11"],
)
def test_a_bare_number_is_never_a_day(home, text):
    """source: scrapinghub/dateparser#582; akoumjian/datefinder#99; dateutil/dateutil#290"""
    house = home(now=WEDNESDAY)
    house.says(text)
    assert {day for _, _, day in house.told_of()} <= {"2026-03-04"}


def test_tags_with_figures_stay_tags(home):
    """source: scrapinghub/dateparser#582"""
    house = home(now=WEDNESDAY)
    house.says("fed T12 and T13")
    assert house.told_of() == [("T12", "fed", "2026-03-04"), ("T13", "fed", "2026-03-04")]


@pytest.mark.parametrize(
    ("now", "text"),
    [("2026-03-06T21:00", "fed Rosie friday"), ("2026-03-05T00:30", "fed Rosie thursday")],
)
def test_the_weekday_that_it_is_today_is_today_or_asked_about(home, now, text):
    """source: scrapinghub/dateparser#1196; scrapinghub/dateparser#508; scrapinghub/dateparser#1031"""
    house = home(now=now)
    asked = house.says(text)
    assert house.entries() == []
    assert "today, or a week ago?" in asked
    house.says("today")
    assert [day for _, _, day in house.told_of()] == [now[:10]]


@pytest.mark.parametrize(
    "text",
    ["fed Rosie tonight", "this morning I misted Sunny", "last night Rosie ate", "fed Rosie this evening"],
)
def test_what_happened_is_never_later_than_now(home, text):
    """source: joestelmach/natty#148; digamma-ai/timeextractor#5; scrapinghub/dateparser#895"""
    house = home(now="2026-03-05T00:30")
    reply = house.says(text)
    for entry in house.entries():
        assert (entry.day, entry.time or time.min) <= (date(2026, 3, 5), time(0, 30))
    assert house.entries() or "Nothing is stored yet" in reply


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("fed Rosie on the 1st", "2026-03-01"),
        ("Rosie molted the 12th", "2026-02-12"),
        ("Rosie molted on the 31st", "2026-01-31"),
    ],
)
def test_a_day_of_the_month_is_the_last_one_that_was(home, text, day):
    """source: scrapinghub/dateparser#804"""
    house = home(now=WEDNESDAY)
    house.says(text)
    assert [told for _, _, told in house.told_of()] in ([day], [])


@pytest.mark.parametrize(
    ("zone", "now", "text", "day", "clock"),
    [
        ("Pacific/Auckland", "2026-03-04T09:00", "fed Rosie yesterday", "2026-03-03", None),
        ("America/Los_Angeles", "2026-03-03T18:30", "fed Rosie at 5pm", "2026-03-03", time(17)),
        ("Pacific/Kiritimati", "2026-03-04T01:00", "fed Rosie", "2026-03-04", None),
        ("Pacific/Pago_Pago", "2026-03-03T23:30", "fed Rosie", "2026-03-03", None),
    ],
)
def test_days_are_counted_by_the_keepers_clock_whatever_the_computers_says(
    any_home, zone, now, text, day, clock
):
    """source: scrapinghub/dateparser#927; scrapinghub/dateparser#1213; scrapinghub/dateparser#403"""
    house = any_home(now=now, zone=zone)
    house.says(text)
    assert house.told_of("time") == [("T12", "fed", day, clock)]


@pytest.mark.parametrize("word", ["to", "do", "are", "bar", "on:", "set", "son", "mar", "sat", "di", "an"])
def test_a_stray_word_is_no_day_of_any_language(home, word):
    """source: scrapinghub/dateparser#330; scrapinghub/dateparser#942; vectorize-io/hindsight#3154"""
    house = home(now=WEDNESDAY)
    house.says(word)
    assert house.entries() == []


def test_an_animal_called_like_a_word_of_a_day_in_another_language_is_fed_today(home):
    """source: scrapinghub/dateparser#330"""
    house = home(now=WEDNESDAY, shelf=[named("S1", "Son"), named("S2", "Mar"), *SHELF])
    house.says("fed Son")
    house.says("fed Mar")
    assert house.told_of() == [("S1", "fed", "2026-03-04"), ("S2", "fed", "2026-03-04")]


@pytest.mark.parametrize("said", ["3/4/26", "3/3/26"])
def test_a_reminder_for_a_day_that_is_past_is_refused_and_not_moved_a_century_or_a_year(home, said):
    """source: scrapinghub/dateparser#392; scrapinghub/dateparser#463; scrapinghub/dateparser#410"""
    house = home(now=WEDNESDAY, date_order=DateOrder.MDY)
    reply = house.says(f"remind me on {said} to check Rosie")
    assert "passed" in reply or "past" in reply
    assert not any(
        "check Rosie" in letter for letter in house.waits("2026-03-30T09:00", step=timedelta(hours=1))
    )


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Julian shed", [("J1", "molted")]),
        ("fed Monty and Sunny", [("J2", "fed"), ("J5", "fed")]),
        ("decided not to feed", []),
        ("Augustus ate", [("J3", "fed")]),
        ("Octavia refused", [("J4", "refused")]),
    ],
)
def test_a_day_or_month_within_a_word_is_none(home, text, told):
    """source: bear/parsedatetime#17; akoumjian/datefinder#99; spencermountain/compromise#456"""
    names = ["Julian", "Monty", "Augustus", "Octavia", "Sunny"]
    house = home(now=WEDNESDAY, shelf=[named(f"J{n}", name) for n, name in enumerate(names, 1)])
    house.says(text)
    assert house.told_of() == [(tag, kind, "2026-03-04") for tag, kind in told]


def test_next_friday_is_asked_with_both_days(home):
    """source: facebook/duckling#44; facebook/duckling#297; wit-ai/wit#911; argenos/nldates-obsidian#81"""
    house = home(now=WEDNESDAY)
    house.says("remind me next friday to clean box 4")
    labels = [button.label for row in house.shown[-1].buttons for button in row]
    assert any("6 Mar" in label for label in labels)
    assert any("13 Mar" in label for label in labels)


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("fed Rosie at 8", time(20)),
        ("fed Rosie tonight at 8:30", time(20, 30)),
        ("misted Rosie at 9 in the morning", time(9)),
        ("fed Rosie at 21:00", time(21)),
    ],
)
def test_an_hour_is_the_nearest_one_that_was_and_is_told_back(home, text, clock):
    """source: matthewmueller/date#72; matthewmueller/date#36"""
    house = home(now="2026-03-04T21:30")
    reply = house.says(text)
    assert house.told_of("time")[0][2:] == ("2026-03-04", clock)
    assert f"{clock:%H:%M}" in reply


@pytest.mark.parametrize(
    ("now", "text", "day"),
    [
        ("2026-01-02T12:00", "fed Rosie monday", "2025-12-29"),
        ("2026-01-02T12:00", "Rosie molted dec 30", "2025-12-30"),
        ("2026-03-01T12:00", "fed Rosie yesterday", "2026-02-28"),
        ("2024-03-01T12:00", "fed Rosie yesterday", "2024-02-29"),
    ],
)
def test_days_go_back_over_the_turn_of_month_and_year(home, now, text, day):
    """source: scrapinghub/dateparser#1249; scrapinghub/dateparser#1243; scrapinghub/dateparser#1275"""
    house = home(now=now)
    house.says(text)
    assert [told for _, _, told in house.told_of()] == [day]


def test_monday_goes_on_over_the_turn_of_the_month(home):
    """source: scrapinghub/dateparser#1262"""
    house = home(now="2026-05-30T12:00")
    assert "Mon 1 Jun" in house.says("remind me monday to check Rosie")


def test_a_past_hour_of_today_is_asked_and_today_is_today(home):
    """source: DamascenoRafael/reminders-menubar#108"""
    house = home(now="2026-03-04T23:40")
    house.says("fed Rosie today")
    assert house.told_of() == [("T12", "fed", "2026-03-04")]
    assert "passed" in house.says("remind me today at 11pm to check Rosie")


def test_two_keepers_at_once_each_have_their_own_date_order():
    """source: scrapinghub/dateparser#441; scrapinghub/dateparser#813; scrapinghub/dateparser#834"""
    names, found = ShelfNames.of(SHELF), {order: set() for order in (DateOrder.DMY, DateOrder.MDY)}
    now = datetime.fromisoformat("2026-05-04T12:00+02:00")

    def reads(order):
        settings = KeeperSettings(zone="Europe/Berlin", date_order=order)
        for _ in range(200):
            reading = read("Rosie molted 02/03/2026", names, now=now, settings=settings)
            found[order].update(entry.day for entry in reading.entries)

    threads = [threading.Thread(target=reads, args=(order,)) for order in found for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == {DateOrder.DMY: {date(2026, 3, 2)}, DateOrder.MDY: {date(2026, 2, 3)}}


@pytest.mark.parametrize("order", list(DateOrder))
def test_a_date_with_the_year_first_is_never_swapped(home, order):
    """source: scrapinghub/dateparser#1199; scrapinghub/dateparser#412"""
    house = home(now="2026-05-04T12:00", date_order=order)
    house.says("Rosie molted 2026-04-03")
    assert [day for _, _, day in house.told_of()] == ["2026-04-03"]


@pytest.mark.parametrize("said", ["29 feb", "31 april", "29 february 2025", "31/4/2025"])
def test_a_day_that_never_was_is_refused(home, said):
    """source: scrapinghub/dateparser#693; scrapinghub/dateparser#520"""
    house = home(now=WEDNESDAY)
    assert "no such day" in house.says(f"Rosie molted {said}")
    assert house.entries() == []


def test_a_whole_page_in_one_message_is_answered_and_the_round_still_comes(home):
    """source: wanasit/chrono#382; scrapinghub/dateparser#439; scrapinghub/dateparser#426

    That it takes well under a second is for the benchmark; that the steps grow with the length only, for
    tests/reading/test_reading_costs.py.
    """
    house = home(now="2026-03-04T07:59")
    page = ("fed " + ", ".join(f"T{number}" for number in range(1, 701)))[:4090]
    assert "Nothing is stored" in house.says(page) or house.entries() == []
    assert any("to feed" in letter for letter in house.waits("2026-03-04T08:05"))
