"""Edits, amendments and undo change what they mean and nothing else."""

from __future__ import annotations

from datetime import date

import pytest

from bot.conversation.model import Incoming
from bot.terms import Kind
from tests.conversation.given import CHAT, at


def test_an_edit_that_says_the_same_is_silent(chat):
    chat.told("fed Pebble 2 crickets")
    assert chat.play("~ fed Pebble 2 crickets") == []
    assert len(chat.entries()) == 1


def test_an_edit_replaces_what_its_message_stored(chat):
    chat.told("fed Pebble 2 crickets")
    chat.play("~ fed Rust 3 crickets")
    assert [(entry.specimens, entry.count) for entry in chat.entries()] == [(("A2",), 3)]


def test_an_edit_of_a_message_that_was_asked_about_answers_it(chat):
    chat.told("GBB ate a fruit fly")
    chat.play("~ GBB 2 ate a fruit fly")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]
    assert "already" in chat.press("B1")
    assert len(chat.entries()) == 1


def test_an_edit_that_cannot_be_read_leaves_the_entry_and_says_so(chat):
    chat.told("fed Pebble 2 crickets")
    replies = chat.play("~ qwertz")
    assert "still stands" in replies[0].text
    assert len(chat.entries()) == 1


def test_a_change_of_many_entries_is_not_guessed_at(chat):
    chat.told("fed shelf A a cricket each")
    before = chat.entries()
    chat.told("no, Moss")
    assert chat.entries() == before


def test_a_word_does_not_take_back_what_no_message_did(store, chat):
    """An import, or the shelf that was put up, goes by no slip of the thumb."""
    assert "a word does not undo" in chat.told("undo")
    with store.look() as work:
        assert len(work.shelves.specimens(chat.keeper.shelf_id)) == 10


def test_an_amendment_that_leaves_nothing_says_so(chat):
    chat.told("fed Rust 2 roaches")
    chat.told("fed Pebble 2 crickets")
    assert "Fed again?" in chat.told("no, Rust")
    assert "nothing stands in its place" in chat.told("no")
    assert [entry.specimens for entry in chat.entries()] == [("A2",)]
    chat.told("undo")
    assert len(chat.entries()) == 2


def test_an_undone_amendment_brings_back_what_it_replaced(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("make it 3")
    chat.told("undo")
    assert [entry.count for entry in chat.entries()] == [2]


def answering(chat, text, reply_to):
    """A message that answers another one of the chat."""
    chat.message += 1
    incoming = Incoming(sent_at=at(chat.now), text=text, reference=str(chat.message), reply_to=reply_to)
    with chat.store.begin() as work:
        return chat.talk.respond(work, work.keepers.get(chat.keeper.id), CHAT, incoming)


def test_undo_in_reply_to_an_echo_takes_back_that_entry(chat):
    chat.told("fed Pebble 2 crickets")
    with chat.store.begin() as work:
        work.prompts.shown_as(chat.shown[-1].number, "echo-1")
    chat.told("fed Rust 2 roaches")
    answering(chat, "undo", "echo-1")
    assert [entry.specimens for entry in chat.entries()] == [("A2",)]


def test_undo_in_reply_to_a_word_that_corrected_takes_the_correction_back(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("make it 3")
    correction = str(chat.message)
    chat.told("fed Rust 2 roaches")
    answering(chat, "undo", correction)
    assert {(entry.specimens, entry.count) for entry in chat.entries()} == {(("A1",), 2), (("A2",), 2)}


def test_undo_in_reply_to_a_message_that_stored_nothing_takes_nothing_back(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("how is Rust?")
    for word in ("undo", "make it 3"):
        (said,) = answering(chat, word, str(chat.message))
        assert "nothing is" in said.text
        assert not said.buttons
    assert [(entry.specimens, entry.count) for entry in chat.entries()] == [(("A1",), 2)]


def test_undo_in_reply_to_an_open_question_drops_that_question_alone(chat):
    chat.told("GBB ate a fruit fly")
    with chat.store.begin() as work:
        work.prompts.shown_as(chat.shown[-1].number, "ask-1")
    chat.told("fed Pebble 2 crickets")
    (said,) = answering(chat, "undo", "ask-1")
    assert "question is dropped" in said.text
    answering(chat, "B2", "ask-1")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]


def test_a_change_in_reply_to_ones_own_message_changes_what_that_message_stored(chat):
    chat.told("fed Pebble 2 crickets")
    first = str(chat.message)
    chat.told("fed Rust 2 roaches")
    answering(chat, "make it 3", first)
    assert {(entry.specimens, entry.count) for entry in chat.entries()} == {(("A1",), 3), (("A2",), 2)}


def test_an_answer_in_reply_to_an_older_question_answers_that_one(chat):
    chat.told("GBB ate a fruit fly")
    with chat.store.begin() as work:
        work.prompts.shown_as(chat.shown[-1].number, "ask-1")
    chat.told("GBB molted")
    answering(chat, "B2", "ask-1")
    assert [(entry.kind, entry.specimens) for entry in chat.entries()] == [(Kind.FED, ("B2",))]


def test_a_day_before_the_animal_came_is_stored_and_told(chat):
    said = chat.told("Pebble molted on 2 January 2025")
    assert "came onto the shelf" in said
    assert chat.entries()[0].day == date(2025, 1, 2)


def test_another_prey_said_to_be_instead_changes_the_meal_that_was_just_told(chat):
    chat.told("fed A1 and A2 a cricket")
    assert "Changed" in chat.told("gave Pebble a roach instead")
    assert "ate 1 roach" in chat.told("what did Pebble eat last?")
    chat.told("watered Rust")
    assert "Fed again?" in chat.told("gave Rust a roach instead")


@pytest.mark.parametrize("denial", ["oh wait Rust didn't", "wait, Rust did not", "sorry Rust wasn't"])
def test_a_name_denied_alone_is_asked_about_and_never_put_in_anothers_place(chat, denial):
    chat.told("fed Pebble 2 crickets")
    before = chat.told("history")
    chat.told(denial)
    assert chat.told("history") == before
    chat.told("fed A2 and A3")
    assert "Is that entry wrong?" in chat.told(denial)
    assert "Taken back" in chat.press("Rust (A2): ate, today")


def test_news_with_the_day_that_it_was_not_is_stored_and_an_entry_of_that_day_asked_about(chat):
    assert "Is that entry wrong?" not in chat.told("Rust refused a cricket on Sunday, not on Monday")
    chat.told("Pebble refused a cricket on Tuesday")
    assert "Is that entry wrong?" in chat.told("Pebble refused a cricket on Monday, not on Tuesday")
    assert "Taken back" in chat.press(chat.shown[-1].buttons[0][0].label)
    told = {(entry.specimens, entry.day.day) for entry in chat.entries()}
    assert told == {(("A2",), 10), (("A1",), 11)}


def test_a_correction_that_names_its_kind_changes_the_entry_of_that_kind_and_day(chat):
    chat.told("Pebble molted on the 4th")
    chat.told("fed Rust 2 crickets")
    fed = [entry for entry in chat.entries() if entry.kind is Kind.FED]
    chat.told("the molt was on the 3rd, not the 4th")
    assert [entry.day.day for entry in chat.entries() if entry.kind is Kind.MOLTED] == [3]
    assert [entry for entry in chat.entries() if entry.kind is Kind.FED] == fed


def test_a_correction_of_a_kind_that_is_not_on_record_changes_nothing(chat):
    chat.told("fed Rust 2 crickets")
    before = chat.entries()
    chat.told("the molt was on the 3rd, not the 4th")
    assert chat.entries() == before
