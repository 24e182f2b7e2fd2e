"""Going away in words: who looks after the animals, and from when to when."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.reading import ShelfNames
from bot.reading.away import days_ahead, phrasings, read_away
from bot.terms import KeeperSettings
from tests.conversation.given import INVENTED_SHELF, ZONE

NOW = datetime(2026, 7, 20, 19, 30, tzinfo=ZoneInfo(ZONE))  # a Monday
NAMES = ShelfNames.of(INVENTED_SHELF)
SETTINGS = KeeperSettings(zone=ZONE)


def said(text):
    found = read_away(text, NAMES, now=NOW, settings=SETTINGS)
    if found is None:
        return None
    days = found.days
    return found.wanted.value, found.helper, *(day and f"{day:%m-%d}" for day in (days.first, days.last))


@pytest.mark.parametrize(
    ("text", "helper", "first", "last"),
    [
        ("away 3 to 14 August, my sister looks after them", "my sister", "08-03", "08-14"),
        ("I'm away from 3 Aug until 14 Aug, Tom takes care of the spiders", "Tom", "08-03", "08-14"),
        ("I am away 3-14 august and my sister will look after them", "my sister", "08-03", "08-14"),
        ("we're away 28 December to 4 January; Marta feeds them", "Marta", "12-28", "01-04"),
        ("from 3 to 14 August my sister looks after everything", "my sister", "08-03", "08-14"),
        (
            "away 2026-08-03 to 2026-08-14, my old friend feeds them",
            "my old friend",
            "08-03",
            "08-14",
        ),
        ("away from the 3rd to the 14th, Tom looks after them", "Tom", "08-03", "08-14"),
        ("away 3/8 - 14/8, Tom covers", "Tom", "08-03", "08-14"),
        ("my sister will look after the shelf from Friday to Sunday", "my sister", "07-24", "07-26"),
        ("my sister looks after them Friday to Tuesday", "my sister", "07-24", "07-28"),
        ("I go away for 10 days starting 3 August, my dad will feed them", "my dad", "08-03", "08-12"),
        ("I'll be gone from tomorrow for two weeks", None, "07-21", "08-03"),
        ("hand over to Anna from Friday to Sunday", "Anna", "07-24", "07-26"),
        ("hand over everything to my neighbour Tom for the weekend", "my neighbour Tom", "07-25", "07-26"),
        ("away until 14 August, Mum minds them", "Mum", "07-20", "08-14"),
        ("on holiday next week, my neighbour feeds them", "my neighbour", "07-27", "08-02"),
        ("hand over to Anna", "Anna", None, None),
        ("my sister looks after them while I'm away", "my sister", None, None),
        ("someone looks after them from 3 to 14 August", None, "08-03", "08-14"),
        ("going on vacation 3-14 August", None, "08-03", "08-14"),
        ("I'm going away on 3 August", None, "08-03", None),
        ("I am away", None, None, None),
        ("away, my sister looks after them", "my sister", None, None),
    ],
)
def test_who_helps_and_when_are_read_and_what_is_not_said_stays_open(text, helper, first, last):
    assert said(text) == ("handover", helper, first, last)


@pytest.mark.parametrize(
    "text", ["on holiday next week", "away this weekend, Tom looks after them", "I'm on holiday in August"]
)
def test_whole_weeks_and_months_are_a_guess_that_has_to_be_confirmed(text):
    assert not read_away(text, NAMES, now=NOW, settings=SETTINGS).days.sure


def test_days_that_end_before_they_begin_leave_the_end_open():
    assert said("away 14 to 3 August") == ("handover", None, "08-14", None)


@pytest.mark.parametrize(
    "text",
    [
        "print a sheet for my sister",
        "can I have a sheet for my sister please",
        "print a sheet for my sister from 3 to 14 August",
    ],
)
def test_a_sheet_for_a_helper_is_asked_for(text):
    assert said(text)[:2] == ("sheet", "my sister")


@pytest.mark.parametrize(
    "text",
    [
        "fed Pebble 2 crickets",
        "my sister fed them yesterday",
        "away 3 to 14 August, Pebble looks after them",
        "the roach got away yesterday",
        "Pebble was away from the hide",
        "Marta feeds them",
        "away",
        "gave away Rust to Marta on 3 August",
        "who looks after them from 3 to 14 August?",
        "no feeding reminders for shelf A until 1 June",
        "remind me to mist rack 1 every 3 days",
    ],
)
def test_what_is_no_hand_over_is_left_to_the_ordinary_reading(text):
    assert said(text) is None


WORDS = sorted({word.strip("[]()<>{}|") for _, phrase in phrasings() for word in phrase.split()})


@settings(max_examples=200, deadline=None)
@given(st.lists(st.sampled_from([*WORDS, "3", "14", "august", "to", "for", "week", "tom"]), max_size=12))
def test_no_jumble_of_its_words_breaks_it_and_days_never_end_before_they_begin(words):
    found = read_away(" ".join(words), NAMES, now=NOW, settings=SETTINGS)
    if found is not None and found.days.first and found.days.last:
        assert found.days.first <= found.days.last


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("August", "2026-08-01", "2026-08-31"),
        ("June", "2027-06-01", "2027-06-30"),
        ("next week", "2026-07-27", "2026-08-02"),
        ("this week", "2026-07-20", "2026-07-26"),
    ],
)
def test_a_stretch_to_come_is_the_whole_of_what_is_left_of_it(words, first, last):
    """Weeks by ISO 8601, from Monday."""
    found = days_ahead(words, now=NOW, settings=SETTINGS)
    assert (str(found.first), str(found.last)) == (first, last)


@pytest.mark.parametrize("day", range(11, 18))
@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("en", "next week"),
        ("en", "for the whole of next week"),
        ("en", "the coming week"),
        ("de", "nächste Woche"),
        ("es", "la semana que viene"),
        ("es", "la próxima semana"),
    ],
)
def test_next_week_lasts_until_its_sunday_whatever_day_it_is_said_on(day, language, words):
    """Weeks by ISO 8601, from Monday; 11 May 2026 is one."""
    now = datetime(2026, 5, day, 12, tzinfo=ZoneInfo(ZONE))
    found = days_ahead(words, now=now, settings=KeeperSettings(zone=ZONE, language=language))
    assert (str(found.first), str(found.last)) == ("2026-05-18", "2026-05-24")
