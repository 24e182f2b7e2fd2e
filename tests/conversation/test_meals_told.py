"""What is said beside a meal: it may be a second one within hours, its day may lie before the animal came."""

from __future__ import annotations

import pytest

from bot.terms import Kind
from tests.conversation.replay import Player


def _meals(chat: Player) -> int:
    return sum(entry.kind is Kind.FED for entry in chat.entries())


def test_the_question_says_what_was_read_and_what_is_on_record(chat):
    chat.told("Pebble ate 2 crickets")
    asked = chat.told("fed Pebble a roach")
    assert "1 roach" in asked
    assert "2 crickets" in asked
    assert _meals(chat) == 1
    chat.told("yes")
    assert _meals(chat) == 2


@pytest.mark.parametrize(("before", "asked"), [("2026-05-13 23:30", True), ("2026-05-13 12:00", False)])
def test_a_meal_after_midnight_may_be_that_of_the_evening(chat, before, asked):
    chat.now = before
    chat.told("Pebble ate a roach")
    chat.now = "2026-05-14 00:40"
    assert ("Fed again?" in chat.told("Pebble ate a roach")) is asked


def test_a_meal_told_late_for_the_day_before_is_no_second_one(chat):
    chat.told("Pebble ate a roach yesterday")
    assert "Fed again?" not in chat.told("Pebble ate a roach")
    assert _meals(chat) == 2


def test_that_a_day_lies_before_an_animal_came_is_said_once_a_day(chat):
    assert "earlier day" in chat.told("Pebble ate on 3 Jan 2025")
    assert "earlier day" not in chat.told("Rust ate on 4 Jan 2025")
    chat.now = "2026-05-15 19:30"
    assert "earlier day" in chat.told("Clove ate on 5 Jan 2025")
