"""An entry on record is told of by its animal, kind and day, and what is so told is no entry of its own."""

from datetime import date, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read, reading_from_store, reading_to_json, reading_to_store
from bot.reading.model import ReadingKind
from bot.terms import Kind
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
MONDAY, TUESDAY, YESTERDAY = date(2026, 5, 11), date(2026, 5, 12), date(2026, 5, 13)


def reading_of(text: str):
    return read(text, SHELF.names, now=NOW, settings=SHELF.settings)


@pytest.mark.parametrize(
    ("text", "tags", "kind", "days"),
    [
        ("delete the water for Mole on monday", ("C3",), Kind.WATERED, (MONDAY,)),
        ("undo mole water", ("C3",), Kind.WATERED, ()),
        ("pls remove moles watering from tuesday", ("C3",), Kind.WATERED, (TUESDAY,)),
        ("delete Ink's meal from yesterday", ("A2",), Kind.FED, (YESTERDAY,)),
        ("erase yesterdays feeding of Ink", ("A2",), Kind.FED, (YESTERDAY,)),
        ("scrap the 2 crickets for Ink", ("A2",), Kind.FED, ()),
        ("take back Ink's molt", ("A2",), Kind.MOLTED, ()),
        ("cancel the rehouse of Ink", ("A2",), Kind.REHOUSED, ()),
        ("undo Ink's refusal on monday", ("A2",), Kind.REFUSED, (MONDAY,)),
        ("delete the sale of Twig", ("D2",), Kind.LEFT, ()),
        ("can you delete the water for Mole on monday?", ("C3",), Kind.WATERED, (MONDAY,)),
        ("pls delete moles watering, that was wrong", ("C3",), Kind.WATERED, ()),
        ("take Mole's molt off the record", ("C3",), Kind.MOLTED, ()),
        ("strike Ink's meal from the journal", ("A2",), Kind.FED, ()),
    ],
)
def test_an_entry_told_of_is_taken_back(text, tags, kind, days):
    reading = reading_of(text)
    assert (reading.reading, reading.entries, reading.amend.action) == (ReadingKind.AMEND, (), "undo")
    assert (reading.amend.of.specimens, reading.amend.of.days) == (tags, days)
    assert kind in reading.amend.of.kinds


@pytest.mark.parametrize(
    ("text", "tags", "changes"),
    [
        ("that water on monday was Ink, not Mole", ("C3",), {"specimens": ("A2",)}),
        ("change Ink's molt to tuesday", ("A2",), {"day": TUESDAY}),
        ("change Ink to 14.5 cm", ("A2",), {"span_cm": Decimal("14.5")}),
        ("Ink is 14.5 not 14", ("A2",), {"number": Decimal("14.5")}),
        ("Ink's meal yesterday was a roach, not a cricket", ("A2",), {"prey": "roach"}),
        ("that meal of Ink on monday should be 3", ("A2",), {"count": 3}),
        ("move Ink's meal from tuesday to monday", ("A2",), {"day": MONDAY}),
        ("sorry, Mole's water was monday", ("C3",), {"day": MONDAY}),
        ("Mole was fed tuesday not monday", ("C3",), {"day": TUESDAY}),
        ("Mole was watered not monday but tuesday", ("C3",), {"day": TUESDAY}),
        ("Ink ate a roach, not a cricket, on monday", ("A2",), {"prey": "roach"}),
        ("Ink ate 3 crickets not 2", ("A2",), {"number": Decimal(3)}),
        ("it was not Mole who got water, it was Ink", ("C3",), {"specimens": ("A2",)}),
        ("it was Ink that molted, not Mole", ("C3",), {"specimens": ("A2",)}),
    ],
)
def test_an_entry_told_of_is_changed(text, tags, changes):
    reading = reading_of(text)
    assert (reading.reading, reading.entries, reading.amend.action) == (ReadingKind.AMEND, (), "change")
    assert (reading.amend.of.specimens, reading.amend.changes) == (tags, changes)
    assert reading_from_store(reading_to_store(reading)) == reading


@pytest.mark.parametrize(
    "text",
    [
        "delete Ink's water. and fed Mole a roach",
        "edit Ink history",
        "delete the frobnication of Ink",
        "change Ink's meal to whatever",
    ],
)
def test_what_takes_back_but_is_not_understood_is_asked_about_and_never_stored(text):
    assert reading_of(text).reading is ReadingKind.ASK


@pytest.mark.parametrize(
    "text",
    [
        "removed the bolus from Ink",
        "remove the uneaten cricket from Ink",
        "Ink's meal yesterday was a roach",
        "those crickets are so noisy",
        "undo that, it was Ink not Mole",
        "prey should be locust",
        "was Ink's meal yesterday a roach?",
        "remove Twig from the feeding list for 3 weeks",
    ],
)
def test_work_accounts_and_corrections_of_the_last_entry_tell_of_no_earlier_one(text):
    amend = reading_of(text).amend
    assert amend is None or amend.of is None


@pytest.mark.parametrize(
    ("text", "kind", "days"),
    [
        ("Mole was not watered monday", Kind.WATERED, (MONDAY,)),
        ("I didn't water Mole on monday", Kind.WATERED, (MONDAY,)),
        ("haven't fed Mole", Kind.FED, ()),
        ("Mole didnt molt", Kind.MOLTED, ()),
    ],
)
def test_what_is_denied_is_told_and_stores_nothing(text, kind, days):
    reading = reading_of(text)
    assert reading.reading in (ReadingKind.UNCLEAR, ReadingKind.ASK)
    assert kind in reading.denies.kinds
    assert (reading.denies.specimens, reading.denies.days) == (("C3",), days)
    assert reading_from_store(reading_to_store(reading)) == reading


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("water: Ink mon, Mole tues", [(("A2",), MONDAY), (("C3",), TUESDAY)]),
        ("watered: Ink, Biscuit mon, Mole tues", [(("A1", "A2"), MONDAY), (("C3",), TUESDAY)]),
        ("watered: Ink mon 50 ml, Mole tues", [(("A2",), MONDAY), (("C3",), TUESDAY)]),
    ],
)
def test_a_list_under_a_heading_keeps_each_its_day_and_is_no_reminder(text, told):
    reading = reading_of(text)
    assert [(entry.specimens, entry.day) for entry in reading.entries] == told
    assert {entry.kind for entry in reading.entries} == {Kind.WATERED}


def test_a_figure_that_only_the_journal_can_place_is_a_question_in_the_contracts_words():
    assert reading_to_json(reading_of("no, 14.5"))["ask"] == {"about": "amount"}
