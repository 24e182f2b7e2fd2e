"""A day that puts an entry right, and one from which an animal is to be fed again."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import Reading
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))


def _read(message: str) -> Reading:
    return read(message, SHELF.names, now=NOW, settings=SHELF.settings)


@pytest.mark.parametrize(
    "message",
    [
        "date's wrong, that happened on monday",
        "that date is wrong, it was monday",
        "the date is wrong, it happened on monday",
        "you've got the date wrong, it was on monday",
        "undo that, it happened on monday",
        "all wrong, that happened on monday",
    ],
)
def test_words_that_something_was_wrong_with_the_right_day_change_the_day(message: str) -> None:
    amend = _read(message).amend
    assert amend is not None
    assert (amend.action, amend.changes) == ("change", {"day": date(2026, 5, 11)})


@pytest.mark.parametrize(
    ("message", "until"),
    [
        ("Mole can eat again from friday", date(2026, 5, 15)),
        ("Mole can be fed again from the 20th", date(2026, 5, 20)),
        ("resume feeding Mole from 20 May", date(2026, 5, 20)),
        ("put Mole back on the feeding list on monday", date(2026, 5, 18)),
    ],
)
def test_an_animal_that_is_to_be_fed_from_a_day_on_is_not_until_then(message: str, until: date) -> None:
    hold = _read(message).hold
    assert hold is not None
    assert (hold.specimens, hold.state, hold.until) == (("C3",), "hold", until)


def test_an_animal_that_is_to_be_fed_again_without_a_day_is_so_from_now_on() -> None:
    hold = _read("Mole can be fed again").hold
    assert hold is not None
    assert (hold.state, hold.until) == ("resume", None)
