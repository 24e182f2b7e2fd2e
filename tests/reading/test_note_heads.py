"""A note is what was seen, without the words that only announce it."""

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
        ("note for Ink, a lovely one: new cork bark", "note for Ink, a lovely one: new cork bark"),
        ("Ink limping: left leg two", "Ink limping: left leg two"),
    ],
)
def test_the_head_of_a_note_is_no_part_of_it(text: str, note: str) -> None:
    entries = read(text, SHELF.names, now=NOW, settings=SHELF.settings).entries
    assert [(one.kind, one.specimens, one.note) for one in entries] == [(Kind.NOTE, ("A2",), note)]
