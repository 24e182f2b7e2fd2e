"""Who "all" are, and who is taken out of them, wherever the exception stands."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import ReadingKind
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 6, 18, 20, tzinfo=ZoneInfo("Europe/Dublin"))


def reading(text: str):
    return read(text, SHELF.names, now=NOW, settings=SHELF.settings)


def tags(text: str) -> list[str]:
    got = reading(text)
    assert got.reading is ReadingKind.ENTRIES, got
    return [tag for entry in got.entries for tag in entry.specimens]


@pytest.mark.parametrize("but", ["but", "except", "bar", "apart from", "other than", "except for", "without"])
@pytest.mark.parametrize("said", ["everyone on C {} Mole ate", "fed everyone on C {} Mole"])
def test_an_exception_takes_out_of_its_group(said: str, but: str) -> None:
    assert tags(said.format(but)) == ["C1", "C2", "C4"]


@pytest.mark.parametrize("but", ["all but", "all except", "bar", "except for", "apart from", "leaving out"])
def test_an_exception_after_the_meal_takes_out_of_the_group_before_it(but: str) -> None:
    assert tags(f"fed everyone on C a locust each, {but} Mole") == ["C1", "C2", "C4"]


@pytest.mark.parametrize("but", ["bar", "apart from", "except for"])
@pytest.mark.parametrize("mark", ["", ","])
def test_an_exception_before_its_group_takes_out_of_it(but: str, mark: str) -> None:
    assert tags(f"{but} Mole{mark} everyone on C ate") == ["C1", "C2", "C4"]


@pytest.mark.parametrize(
    "text",
    [
        "Mole is all sealed up",
        "Mole ate a cricket all by herself",
        "Mole took a cricket after all",
        "Mole ate a cricket, all gone",
    ],
)
def test_all_that_says_altogether_is_nobody_else(text: str) -> None:
    assert set(tags(text)) == {"C3"}


@pytest.mark.parametrize(
    ("text", "specimens"),
    [
        ("remind me in 5 days to feed all of C but Mole", ("C1", "C2", "C4")),
        ("no feeding prompts for shelf C except Mole until 1 July", ("C1", "C2", "C4")),
        ("is anyone on C except Mole due?", ("C1", "C2", "C4")),
    ],
)
def test_exceptions_hold_in_reminders_pauses_and_questions(text: str, specimens: tuple[str, ...]) -> None:
    got = reading(text)
    said = got.reminder or got.hold or got.question
    assert said is not None
    assert said.specimens == specimens
