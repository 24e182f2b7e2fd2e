"""Work to come told behind what an animal did, and what a notebook puts right behind its lines."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import Reading
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))


def _reading(text: str) -> Reading:
    return read(text, SHELF.names, now=NOW, settings=SHELF.settings)


@pytest.mark.parametrize(
    ("text", "specimens"),
    [
        ("A2 moulted yesterday. In 12 days please remind me to offer food.", ("A2",)),
        ("Ink moulted. Remind me in 12 days to offer a small cricket.", ("A2",)),
        ("Captain moulted today, remind me in two weeks to feed.", ("T12",)),
        ("C3 sealed. In 30 days please remind me to check.", ("C3",)),
        ("Ink and May moulted. In 12 days please remind me to offer food.", ("A2", "A3")),
        ("Watered Anvil and Mole. In 5 days please remind me to water again.", ("C1", "C3")),
        ("Lantern laid a sac. Remind me in 30 days to pull the sac.", ("D1",)),
        # somebody else, everybody, or nobody of the shelf
        ("Ink ate. Remind me in 30 days to pull Lantern's sac.", ("D1",)),
        ("Lantern laid a sac, Anvil refused. Remind me in 30 days to pull the sac.", ()),
        ("Ink moulted. Remind me in 10 days to feed Biscuit.", ("A1",)),
        ("Ink ate a roach. In 12 days please remind me to order crickets.", ()),
        ("Ink ate a roach. In 12 days please remind me to check the heater.", ()),
        ("Ink ate a roach. In 12 days please remind me to feed the roaches.", ()),
        ("Watered Ink. In 5 days please remind me to water the plants.", ()),
        # of which of them?
        ("Ink moulted, May refused a roach. In 12 days please remind me to offer food.", ()),
        ("Bought 200 crickets. Remind me in 10 days to feed.", ()),
        ("Remind me in 10 days to feed.", ()),
    ],
)
def test_a_reminder_behind_what_was_told_is_of_whoever_it_was_told_of(
    text: str, specimens: tuple[str, ...]
) -> None:
    reminder = _reading(text).reminder
    assert reminder is not None
    assert reminder.specimens == specimens


@pytest.mark.parametrize(
    ("text", "changes"),
    [
        ("Correction: 3 instead of 2.", {"count": 3}),
        ("Correction: a roach instead of a cricket.", {"prey": "roach"}),
        ("Error: it was B2, not B1.", {"specimens": ("B2",)}),
        ("Error: Ink instead of May.", {"specimens": ("A2",)}),
        ("The last entry belongs to Ink.", {"specimens": ("A2",)}),
        ("The last line belongs to yesterday.", {"day": NOW.date().replace(day=13)}),
    ],
)
def test_a_line_of_the_notebook_is_put_right_by_what_was_meant(text: str, changes: dict[str, object]) -> None:
    amend = _reading(text).amend
    assert amend is not None
    assert amend.action == "change"
    assert amend.changes == changes


@pytest.mark.parametrize(
    "text", ["Cancel the previous line.", "Delete the last record.", "Ignore my last line."]
)
def test_a_line_of_the_notebook_is_taken_back(text: str) -> None:
    amend = _reading(text).amend
    assert amend is not None
    assert amend.action == "undo"


@pytest.mark.parametrize(
    "text",
    [
        "Ink ate a roach instead of a cricket.",
        "The line of dubias belongs to Marta.",
        "It belongs to shelf C.",
        "Error in the scale, weight of Ink unknown.",
    ],
)
def test_what_only_looks_like_a_correction_changes_nothing(text: str) -> None:
    assert _reading(text).amend is None


@pytest.mark.parametrize(
    "text",
    [
        "Which animals are to be fed today?",
        "Who is to be watered today?",
        "Which GBBs are to get food today?",
    ],
)
def test_who_is_to_have_something_today_is_asked_of_the_round(text: str) -> None:
    question = _reading(text).question
    assert question is not None
    assert question.topic == "due"
