"""Who "all" are, and who is taken out of them, wherever the exception stands."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import About, ReadingKind
from bot.terms import Kind
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
        ("no prompts for anyone on C but Mole until 1 July", ("C1", "C2", "C4")),
    ],
)
def test_exceptions_hold_in_reminders_pauses_and_questions(text: str, specimens: tuple[str, ...]) -> None:
    got = reading(text)
    said = got.reminder or got.hold or got.question
    assert said is not None
    assert said.specimens == specimens


@pytest.mark.parametrize(
    "text",
    [
        "all zorps ate",
        "all the zorps refused a cricket",
        "all my zorps ate",
        "all the old zorps ate",
        "fed all my zorps 2 crickets each",
        "all zorps: 1 cricket",
        "all the zorps, 1 cricket each",
        "all zorps on C ate",
        "all four of the zorps ate",
    ],
)
def test_all_of_what_is_not_understood_is_not_everyone(text: str) -> None:
    got = reading(text)
    assert got.ask is not None, got
    assert (got.ask.about, got.ask.choices) == (About.SPECIMEN, ())


def test_all_four_on_a_place_are_those_who_stand_there_and_no_number_of_prey() -> None:
    (entry,) = reading("all four on C refused a locust").entries
    assert (entry.specimens, entry.count) == (("C1", "C2", "C3", "C4"), 1)


def test_all_of_another_number_than_stands_there_is_asked_about() -> None:
    got = reading("all three on C refused a locust")
    assert got.ask is not None
    assert got.ask.about is About.SPECIMEN


@pytest.mark.parametrize(
    ("text", "left_out"),
    [
        ("no feeding prompts for anybody until 1 July", set()),
        ("no feeding prompts for anyone but Ink until 1 July", {"A2"}),
        ("no feeding prompts for anyone until 1 July except Ink and Mole", {"A2", "C3"}),
    ],
)
def test_a_pause_for_nobody_in_particular_is_for_everyone(text: str, left_out: set[str]) -> None:
    hold = reading(text).hold
    assert hold is not None
    assert set(hold.specimens) == set(SHELF.names.by_tag) - left_out


def test_what_nobody_is_to_be_told_pauses_nobody() -> None:
    assert reading("Ink molted. Don't tell anyone.").hold is None


@pytest.mark.parametrize("head", ["GBB roundup –", "GBB update:", "GBB news -"])
def test_a_row_at_the_head_of_its_numbers_is_all_of_it(head: str) -> None:
    got = reading(f"{head} 3 moulted, 1 and 4 had a fruit fly")
    assert [(entry.kind, entry.specimens) for entry in got.entries] == [
        (Kind.MOLTED, ("B3",)),
        (Kind.FED, ("B1", "B4")),
    ]


def test_a_number_of_prey_below_the_name_of_a_row_counts_prey() -> None:
    got = reading("GBB update: 3 crickets")
    assert got.ask is not None
    assert got.ask.about is About.SPECIMEN
