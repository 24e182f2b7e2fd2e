"""A note is what was seen, without the words that only announce it."""

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.terms import Kind
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("note for Ink: new cork bark", "new cork bark"),
        ("Ink note: new cork bark", "new cork bark"),
        ("please add a note to Ink: new cork bark", "new cork bark"),
        ("note: Ink has new cork bark", "Ink has new cork bark"),
        ("note for Ink: shy", "shy"),
        ("note on Ink: likes to hide", "likes to hide"),
        ("note for Ink: her mother was Rust", "her mother was Rust"),
        ("note for A2: looks like Rust", "looks like Rust"),
        ("note for Ink, a lovely one: new cork bark", "note for Ink, a lovely one: new cork bark"),
        ("Ink limping: left leg two", "Ink limping: left leg two"),
    ],
)
def test_the_head_of_a_note_is_no_part_of_it(text: str, note: str) -> None:
    entries = read(text, SHELF.names, now=NOW, settings=SHELF.settings).entries
    assert [(one.kind, one.specimens, one.note) for one in entries] == [(Kind.NOTE, ("A2",), note)]


@pytest.mark.parametrize(
    ("language", "text", "note"),
    [
        ("de", "Notiz für Ink: mag Verstecke", "mag Verstecke"),
        ("es", "nota para Ink: corcho nuevo", "corcho nuevo"),
    ],
)
def test_a_note_is_announced_in_the_keepers_own_words(language: str, text: str, note: str) -> None:
    settings = replace(SHELF.settings, language=language)
    entries = read(text, SHELF.names, now=NOW, settings=settings).entries
    assert [(one.kind, one.specimens, one.note) for one in entries] == [(Kind.NOTE, ("A2",), note)]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("note for Ink: ate 2 crickets", Kind.FED),
        ("note for Ink: molted yesterday", Kind.MOLTED),
        ("note to self: watered Ink", Kind.WATERED),
    ],
)
def test_what_is_told_behind_such_a_head_is_still_what_it_tells(text: str, kind: Kind) -> None:
    entries = read(text, SHELF.names, now=NOW, settings=SHELF.settings).entries
    assert [one.kind for one in entries] == [kind]


@pytest.mark.parametrize("text", ["Ink: shy", "Ink and Rust: likes to hide", "note for Nobody: shy"])
def test_without_such_a_head_what_is_not_understood_is_asked(text: str) -> None:
    assert not read(text, SHELF.names, now=NOW, settings=SHELF.settings).entries
