"""Faults of programs that take orders in free words: the wrong item, a question taken as an order."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.faults.house import SHELF, named

WEDNESDAY = "2026-03-04T09:00"


@pytest.mark.parametrize("text", ["fed T14", "fed T1", "T14 molted", "fed T1120", "refused: T1"])
def test_figures_of_a_tag_match_exactly_or_not_at_all(home, text):
    """source: seatgeek/fuzzywuzzy#9; seatgeek/fuzzywuzzy#328; Open-ISP/ISPyPSA#106"""
    house = home(now=WEDNESDAY)
    reply = house.says(text)
    assert house.entries() == []
    assert "nothing is stored" in reply.casefold()


def test_a_slip_in_a_short_name_is_asked_about(home):
    """source: seatgeek/fuzzywuzzy#9"""
    house = home(now=WEDNESDAY, shelf=[*SHELF, named("X1", "Blue"), named("X2", "Blue junior")])
    house.says("fed blu")
    assert house.entries() == []


def test_two_animals_of_one_name_are_asked_about_and_a_tap_decides(any_home):
    """source: OHF-Voice/intents#1552"""
    house = any_home(
        now=WEDNESDAY, shelf=[named("A1", "Rosie", place="rack A"), named("B1", "Rosie", place="rack B")]
    )
    assert "More than one fits" in house.says("fed Rosie")
    assert house.entries() == []
    label = next(b.label for row in house.shown[-1].buttons for b in row if "B1" in b.label)
    house.presses(label)
    assert house.told_of() == [("B1", "fed", "2026-03-04")]


@pytest.mark.parametrize(
    "text", ["when did Rosie last eat?", "what is due today", "fed Rosie?", "did Rosie molt?"]
)
def test_a_question_stores_nothing(home, text):
    """source: OHF-Voice/intents#2371"""
    house = home(now=WEDNESDAY)
    assert house.says(text)
    assert house.entries() == []


@pytest.mark.parametrize("text", ["add animal Zoe to rack b please", "new Zoe ", "add Zoe please"])
def test_a_newcomers_name_is_the_name_alone_and_nothing_is_made_unasked(home, text):
    """source: home-assistant/core#103685; SEPIA-Framework/sepia-docs#245"""
    house = home(now=WEDNESDAY)
    assert "Which species is Zoe?" in house.says(text)
    reply = house.says("B. hamorii")
    if "Where does it stand?" in reply:
        reply = house.presses(
            next(b.label for row in house.shown[-1].buttons for b in row if "rack B" in b.label)
        )
    assert "To be added: Zoe," in reply
    with house.store.look() as work:
        assert not any(s.specimen.name == "Zoe" for s in work.shelves.specimens(house.shelf_id))
    house.presses("Add, new today")
    with house.store.look() as work:
        assert [s.specimen.name for s in work.shelves.specimens(house.shelf_id)][-1] == "Zoe"


@pytest.mark.parametrize("said", ["in 5 days", "in 5 day"])
def test_a_span_of_days_is_days_however_it_is_written(home, said):
    """source: Brewtarget/brewtarget#75"""
    house = home(now=WEDNESDAY)
    assert "Mon 9 Mar" in house.says(f"remind me {said} to check Rosie")


def test_a_unit_that_nobody_knows_is_asked_about(home):
    """source: Brewtarget/brewtarget#75"""
    house = home(now=WEDNESDAY)
    assert "I will remind you" not in house.says("remind me in 5 blorps to check Rosie")


def test_an_undo_is_of_its_own_message_then_of_the_last_one_and_says_when_it_is_done_already(any_home):
    """source: samsun076/MyMacros#90; toggl/mobile#1782; joshavanier/log#47"""
    house = any_home(now=WEDNESDAY)
    house.says("fed Rosie 2 crickets")
    undo_of_first = next(b for row in house.shown[-1].buttons for b in row if b.label == "Undo")
    house.says("fed Sunny 1 roach")
    before = house.next_meal("T12"), house.next_meal("T13")
    house.presses_data(undo_of_first.data)
    assert [tag for tag, _, _ in house.told_of()] == ["T13"]
    assert house.next_meal("T12") < before[0]
    house.says("undo")
    assert house.entries() == []
    assert house.next_meal("T13") < before[1]
    again = house.presses_data(undo_of_first.data)
    assert house.entries() == []
    assert "already" in again.lower()


@pytest.mark.parametrize(
    ("name", "texts"), [("Ångström", ["fed ångström", "FED ÅNGSTRÖM"]), ("Żaba", ["fed żaba", "fed ZABA"])]
)
def test_letters_of_any_alphabet_have_no_case(any_home, name, texts):
    """source: yadayada/acd_cli#516; ssudhindra-gg/weekly-feedback-tool#39; janeczku/calibre-web#373"""
    house = any_home(now=WEDNESDAY, shelf=[named("A1", name)])
    house.says(texts[0])
    assert house.told_of() == [("A1", "fed", "2026-03-04")]
    assert "Fed again?" in house.says(texts[1])


def test_a_name_is_found_alike_on_both_stores(any_home):
    """source: rocicorp/mono#6095; gramps-project/addons-source#1005"""
    house = any_home(now=WEDNESDAY)
    reply = house.says("fed rosie")
    assert reply.startswith("Rosie (T12): ate")
    assert house.told_of() == [("T12", "fed", "2026-03-04")]


def test_tenths_of_a_gram_add_up_to_the_tenth(any_home):
    """source: csingley/ofxtools#7; django/django#11756"""
    house = any_home(now=WEDNESDAY)
    for day, grams in enumerate(("0.1", "0.2", "0.3"), start=4):
        house.says(f"Rosie weighs {grams} g", now=f"2026-03-0{day}T10:00")
    weights = [entry.weight_g for entry in house.in_order()]
    assert weights == [Decimal("0.1"), Decimal("0.2"), Decimal("0.3")]
    assert (sum(weights), weights[1] - weights[0]) == (Decimal("0.6"), Decimal("0.1"))
