"""Stretches of time in questions, against the calendar (weeks by ISO 8601, from Monday)."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read
from bot.reading.questions.stretches import stretch_alone
from bot.terms import KeeperSettings, Specimen

ZONE = "Europe/London"
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo(ZONE))  # a Thursday
#: Invented.
NAMES = ShelfNames.of([Specimen(tag="A1", name="Moth", species="Grammostola pulchra")])


@pytest.mark.parametrize(
    ("words", "first", "last"),
    [
        ("today", "2026-05-14", "2026-05-14"),
        ("yesterday", "2026-05-13", "2026-05-13"),
        ("this week", "2026-05-11", "2026-05-14"),
        ("last week", "2026-05-04", "2026-05-10"),
        ("this month", "2026-05-01", "2026-05-14"),
        ("last month", "2026-04-01", "2026-04-30"),
        ("this year", "2026-01-01", "2026-05-14"),
        ("last year", "2025-01-01", "2025-12-31"),
        ("in February", "2026-02-01", "2026-02-28"),
        ("in February 2024", "2024-02-01", "2024-02-29"),
        ("in December", "2025-12-01", "2025-12-31"),
        ("in 2025", "2025-01-01", "2025-12-31"),
        ("since March", "2026-03-01", "2026-05-14"),
        ("since 2 May", "2026-05-02", "2026-05-14"),
        ("in the last 3 weeks", "2026-04-23", "2026-05-14"),
        ("on Monday", "2026-05-11", "2026-05-11"),
        ("last weekend", "2026-05-09", "2026-05-10"),
        ("at the weekend", "2026-05-09", "2026-05-10"),
    ],
)
def test_a_question_is_about_the_days_that_its_words_name(words, first, last):
    for text in (f"what did Moth eat {words}?", f"who refused {words}?"):
        asked = read(text, NAMES, now=NOW, settings=KeeperSettings(zone=ZONE)).question
        assert (str(asked.since), str(asked.until)) == (first, last), text


@pytest.mark.parametrize(
    ("language", "text", "first", "last"),
    [
        ("de", "was hat Moth letzte Woche gefressen?", "2026-05-04", "2026-05-10"),
        ("es", "¿cuándo comió Moth este mes?", "2026-05-01", "2026-05-14"),
    ],
)
def test_stretches_are_known_in_every_language(language, text, first, last):
    asked = read(text, NAMES, now=NOW, settings=KeeperSettings(zone=ZONE, language=language)).question
    assert (asked.since, asked.until) == (date.fromisoformat(first), date.fromisoformat(last))


@pytest.mark.parametrize("text", ["and since March?", "last week?", "what about this year?", "in April"])
def test_a_stretch_alone_goes_on_from_the_question_before(text):
    assert stretch_alone(text, NAMES, now=NOW, settings=KeeperSettings(zone=ZONE)) is not None


@pytest.mark.parametrize("text", ["Moth ate last week", "and Moth?", "thanks", "feed Moth this week"])
def test_a_message_that_says_more_is_no_stretch_alone(text):
    assert stretch_alone(text, NAMES, now=NOW, settings=KeeperSettings(zone=ZONE)) is None


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("is Moth due tomorrow?", "2026-05-15", "2026-05-15"),
        ("who do I feed on Saturday?", "2026-05-16", "2026-05-16"),
        ("what is due this week?", "2026-05-14", "2026-05-17"),
        ("who is due next week?", "2026-05-18", "2026-05-24"),
        ("what is due in the next 3 days?", "2026-05-14", "2026-05-17"),
    ],
)
def test_what_is_due_looks_ahead(text, first, last):
    asked = read(text, NAMES, now=NOW, settings=KeeperSettings(zone=ZONE)).question
    assert (str(asked.since), str(asked.until)) == (first, last)


def test_a_stretch_that_lies_ahead_is_none_of_the_past():
    asked = read("what did Moth eat in 2027?", NAMES, now=NOW, settings=KeeperSettings(zone=ZONE)).question
    assert asked.since is None
