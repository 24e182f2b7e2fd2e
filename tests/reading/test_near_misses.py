"""Messages that sound like an order, a correction or a group, and are not: nothing false is stored."""

from datetime import UTC, datetime

import pytest

from bot.reading import ShelfNames, read
from bot.reading.model import ReadingKind
from bot.terms import KeeperSettings, Kind, Sex, Specimen
from tests.conversation.given import INVENTED_SHELF

_NAMES = ShelfNames.of(INVENTED_SHELF)
_NOW = datetime(2026, 5, 14, 19, 30, tzinfo=UTC)


def _read(text: str):
    return read(text, _NAMES, now=_NOW, settings=KeeperSettings())


@pytest.mark.parametrize(
    "text",
    [
        "no crickets left",
        "no mealworms left in the box",
        "Pebble let me hold her",
        "I got to hold Pebble at last",
        "let us hold Rust for a minute",
        "weighed Pebble, 250 g",
    ],
)
def test_what_only_sounds_like_it_stores_nothing(text):
    assert _read(text).reading in {ReadingKind.ASK, ReadingKind.UNCLEAR}


def test_one_animal_behind_an_exception_is_the_excepted_one():
    entries = _read("all on shelf B ate bar Nib, she refused").entries
    assert [(e.kind, e.specimens) for e in entries] == [
        (Kind.FED, ("B1", "B2")),
        (Kind.REFUSED, ("B3",)),
    ]


def test_several_behind_an_exception_are_not_the_excepted_one():
    entries = _read("all on shelf B ate bar Nib, they loved it").entries
    assert [(e.kind, e.specimens) for e in entries] == [(Kind.FED, ("B1", "B2"))]


def test_bowls_of_theirs_are_of_those_just_named():
    entries = _read("cleaned shelf B and filled all their water bowls after").entries
    assert {(e.kind, e.specimens) for e in entries} == {
        (Kind.CLEANED, ("B1", "B2", "B3")),
        (Kind.WATERED, ("B1", "B2", "B3")),
    }


@pytest.mark.parametrize("text", ["Pebble: 2 crickets, neither touched", "Pebble - 2 crickets, none taken"])
def test_prey_of_which_none_was_touched_was_refused(text):
    assert [(e.kind, e.specimens) for e in _read(text).entries] == [(Kind.REFUSED, ("A1",))]


def test_a_first_meal_since_a_molt_is_one_meal():
    entries = _read("Pebble ate a dubia roach, 1st meal since her moult in march").entries
    assert [(e.kind, e.prey, e.count) for e in entries] == [(Kind.FED, "dubia roach", 1)]


def test_prey_of_a_sort_is_prey_where_somebody_bears_its_name():
    names = ShelfNames.of([*INVENTED_SHELF, Specimen(tag="R9", species="Lasiodora parahybana", name="Roach")])
    said = "Pebble ate a dubia roach, first meal since march"
    entries = read(said, names, now=_NOW, settings=KeeperSettings()).entries
    assert [(e.kind, e.specimens, e.prey) for e in entries] == [(Kind.FED, ("A1",), "dubia roach")]


def test_what_she_turns_out_to_be_is_told_of_the_one_just_named():
    entries = _read("Nib molted, she's a girl").entries
    assert [(e.kind, e.specimens, e.sex) for e in entries] == [
        (Kind.MOLTED, ("B3",), None),
        (Kind.SEXED, ("B3",), Sex.FEMALE),
    ]


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("weighed Rust 18", ["18 g"]),
        ("Rust weight 18", ["18 g"]),
        ("Rust legspan 14", ["14 cm", "14 in"]),
        ("Rust carapace 22", ["22 mm", "22 cm"]),
    ],
)
def test_a_measure_without_its_unit_is_asked_for_it(text, choices):
    asked = _read(text).ask
    assert asked is not None
    assert [option.value for option in asked.options] == choices


def test_who_did_is_told_of_what_another_did_not_do():
    refused = _read("Moss didn't refuse, Rust did").entries
    assert [(entry.kind, entry.specimens) for entry in refused] == [(Kind.REFUSED, ("A2",))]
    assert _read("Pebble didn't get water, Rust did").entries == ()
