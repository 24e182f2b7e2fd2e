"""Edits, amendments and undo change what they mean and nothing else."""

from __future__ import annotations


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
    chat.told("fed Rust 1 roach")
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
