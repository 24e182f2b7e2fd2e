"""Names that a keeper says in another form, or in the words of another language, than the shelf has them."""

import json
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read
from bot.terms.shelf_file import shelf_from_json
from tests.reading.corpus import FOLDER

SETTINGS, SPECIMENS = shelf_from_json(json.loads((FOLDER / "de/abend" / "shelf.json").read_text("utf-8")))
CALLED = {"A1": "die Dicke", "A2": "der Alte", "A4": "Kuschel"}
NAMES = ShelfNames.of([replace(s, name=CALLED.get(s.tag, s.name)) for s in SPECIMENS])
NOW = datetime(2026, 6, 10, 20, 30, tzinfo=ZoneInfo("Europe/Dublin"))


def _tags(message: str) -> tuple[str, ...]:
    reading = read(message, NAMES, now=NOW, settings=SETTINGS)
    return tuple(tag for entry in reading.entries for tag in entry.specimens)


@pytest.mark.parametrize(
    ("message", "tags"),
    [
        ("die Dicke hat gefressen", ("A1",)),
        ("der Dicken ne Schabe gegeben", ("A1",)),
        ("dem Alten ne Schabe gegeben", ("A2",)),
        ("Kuschel gefüttert", ("A4",)),
    ],
)
def test_a_name_with_an_article_is_known_behind_another_form_of_it(message, tags):
    assert _tags(message) == tags


@pytest.mark.parametrize("message", ["Regal D gefüttert", "regal d gefuettert", "shelf D gefüttert"])
def test_a_place_is_known_by_the_word_of_the_keepers_language(message):
    assert _tags(message) == ("D1", "D2")


@pytest.mark.parametrize(
    ("message", "tags"),
    [
        ("der Gehörnten zwei Heimchen gegeben", ("C1",)),
        ("die gehoernte hat gefressen", ("C1",)),
        ("die Haarige hat gefressen", ()),
    ],
)
def test_a_nickname_is_known_in_the_keepers_language(message, tags):
    assert _tags(message) == tags


@pytest.mark.parametrize("message", ["Kaptain gefüttert", "die Kommune gefüttert"])
def test_a_name_is_known_with_the_letter_that_sounds_the_same(message):
    assert len(_tags(message)) == 1
