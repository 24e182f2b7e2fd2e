"""The tables of handlers are whole, and a button acts exactly once."""

from __future__ import annotations

import ast
from decimal import Decimal
from pathlib import Path

import pytest

import bot.conversation
from bot.conversation.answers import ANSWERS
from bot.conversation.handlers import INSTRUCTIONS, PRESSES, READINGS
from bot.reading.model import ReadingKind, Topic
from bot.reading.wanted.wanted import Action
from tests.conversation.given import SETTINGS, at
from tests.conversation.replay import Player

ROOM = Path(bot.conversation.__file__).parent


def test_every_kind_of_reading_topic_and_instruction_has_a_handler():
    assert set(READINGS) == set(ReadingKind)
    assert set(ANSWERS) == set(Topic)
    assert set(INSTRUCTIONS) == set(Action)


def test_every_button_that_is_made_has_a_handler_and_every_handler_a_button():
    made = set()
    for path in ROOM.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Dict):
                made |= {
                    str(value.value)
                    for key, value in zip(node.keys, node.values, strict=True)
                    if isinstance(key, ast.Constant) and key.value == "do" and isinstance(value, ast.Constant)
                }
    assert made == set(PRESSES)


def test_a_button_acts_once_however_often_it_is_pressed(chat):
    chat.told("GBB ate a fruit fly")
    chat.press("B2")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]
    assert "already" in chat.press("B2")
    assert len(chat.entries()) == 1


def test_only_the_first_of_several_choices_counts(chat):
    chat.told("GBB ate a fruit fly")
    chat.press("B2")
    assert "already" in chat.press("B1")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]


def test_button_data_is_short_and_holds_no_name(chat):
    chat.told("GBB ate a fruit fly")
    data = [button.data for reply in chat.shown for row in reply.buttons for button in row]
    assert data
    for each in data:
        assert len(each.encode()) <= 64
        assert set(each) <= set("0123456789:")


@pytest.mark.parametrize(
    "data", ["", ":", "1", "99:0", "0:0", "-1:0", "1:99", "1:-1", "x:y", "1:0:0", "9" * 60 + ":0"]
)
def test_a_button_that_nobody_made_does_nothing_and_says_so(chat, data):
    chat.told("fed Pebble 2 crickets")
    replies = chat.say(pressed=data)
    assert len(replies) == 1
    assert len(chat.entries()) == 1


def test_a_button_of_an_animal_that_got_another_tag_stores_nothing_and_says_so(chat):
    chat.told("GBB ate a fruit fly")
    chat.told("retag B2 to B9")
    assert "another tag" in chat.press("B2")
    assert chat.entries() == []
    assert "Taken back" in chat.told("undo")
    assert "B2" in chat.told("where is B2?")


def test_another_keepers_button_does_nothing(store, chat):
    chat.told("fed Pebble 2 crickets")
    other = Player(store)
    with store.begin() as work:
        other.keeper = work.keepers.create("Another Invented Keeper", SETTINGS, at=at("2026-05-01 12:00"))
    undo = chat.shown[-1].buttons[0][0].data
    assert "do not know" in other.say(pressed=undo)[0].text
    assert len(chat.entries()) == 1


def test_undo_by_button_takes_back_its_own_entry_and_undo_in_words_the_latest(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("fed Rust 2 roaches")
    first_undo = chat.shown[-2].buttons[0][0].data
    chat.say(pressed=first_undo)
    assert [entry.specimens for entry in chat.entries()] == [("A2",)]
    chat.told("undo")
    assert chat.entries() == []
    chat.told("undo")
    assert chat.entries() == []


def test_undo_and_redo_by_button_change_the_message_that_said_it_was_stored(chat):
    chat.told("fed Pebble 2 crickets")
    [taken_back] = chat.say(pressed=chat.shown[-1].buttons[0][0].data)
    assert taken_back.text.startswith("Taken back")
    assert taken_back.edits_pressed
    [again] = chat.say(pressed=taken_back.buttons[0][0].data)
    assert again.edits_pressed
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    [once_more] = chat.say(pressed=again.buttons[0][0].data)
    assert once_more.edits_pressed
    assert chat.entries() == []


def test_an_undo_under_a_message_about_something_else_too_leaves_that_message_standing(chat):
    chat.told("fed Pebble 2 crickets")
    [kept] = chat.play("~ qwertz")
    [taken_back] = chat.say(pressed=kept.buttons[0][0].data)
    assert not taken_back.edits_pressed


def test_a_home_told_by_its_size_alone_is_asked_for_its_unit(chat):
    """231 cubic inches to the US gallon: NIST Handbook 44, appendix C."""
    assert "In which unit is 20?" in chat.told("moved Pebble into a 20")
    assert "75.7 L" in chat.press("20 gal")
    (entry,) = chat.entries()
    assert round(entry.volume_l, 2) == Decimal("75.71")
