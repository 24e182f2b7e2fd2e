"""What a note tells of an animal that is out of its enclosure or not well. All notes are invented."""

from datetime import date

import pytest

from bot.husbandry.absence_record import Absence, absence_noted
from bot.husbandry.ailment_record import ailing_noted
from bot.husbandry.state import SpecimenState, state_of
from bot.round.model import RestReason, SpecimenFacts
from bot.round.worklist import rest_of, worklist
from bot.terms import Entry, Kind, Specimen

DAY, NEXT = date(2026, 5, 13), date(2026, 5, 14)


def note(words: str, day: date = DAY) -> Entry:
    return Entry(kind=Kind.NOTE, day=day, specimens=("A1",), note=words)


@pytest.mark.parametrize(
    "words",
    [
        "Ink escaped!!",
        "ink got out",
        "Ink is out of her enclosure, i can’t find her",
        "ink isnt in her box",
        "Ink has gone missing",
        "Ink ist ausgebrochen",
        "se escapó Ink",
    ],
)
def test_a_note_of_an_escape_tells_of_a_missing_animal(words):
    assert absence_noted(words) is Absence.MISSING


@pytest.mark.parametrize(
    "words",
    [
        "found her behind the rack",
        "Ink is back",
        "escaped!! found her behind the rack, shes fine",
        "caught her again",
        "Ink back in her tub",
    ],
)
def test_a_note_that_it_is_found_tells_so_whatever_stands_before(words):
    assert absence_noted(words) is Absence.FOUND


@pytest.mark.parametrize(
    "words",
    [
        None,
        "",
        "Ink nearly escaped",
        "the cricket escaped",
        "Ink is missing a leg",
        "found her molt",
        "out of her hide",
        "escape attempt",
        "Ink is out and about",
    ],
)
def test_a_note_of_anything_else_tells_of_no_absence(words):
    assert absence_noted(words) is None


@pytest.mark.parametrize(
    "words", ["Ink isnt well", "she's curled up and won't move", "in a death curl", "mites"]
)
def test_a_note_of_trouble_tells_that_it_is_not_well(words):
    assert ailing_noted(words)


@pytest.mark.parametrize("words", [None, "no mites", "much better, not moving around so much", "looks well"])
def test_a_note_of_none_tells_of_no_trouble(words):
    assert not ailing_noted(words)


def test_it_is_missing_until_it_is_found_fed_moved_or_measured():
    gone = [Entry(kind=Kind.SEALED, day=DAY, specimens=("A1",)), note("Ink escaped")]
    assert state_of(gone).missing_since == DAY
    assert state_of(gone).sealed_since is None
    for back in (note("found her", NEXT), *(Entry(kind=k, day=NEXT, specimens=("A1",)) for k in _SEEN)):
        assert state_of([*gone, back]).missing_since is None
    assert state_of([*gone, Entry(kind=Kind.WATERED, day=NEXT, specimens=("A1",))]).missing_since == DAY


_SEEN = (Kind.FED, Kind.REHOUSED, Kind.MEASURED)


def test_of_a_lot_that_one_escaped_leaves_the_others_where_they_are():
    assert state_of([note("one escaped")], SpecimenState(lot_size=5)).missing_since is None


def test_nothing_is_to_be_done_for_a_missing_animal_and_it_is_told():
    facts = SpecimenFacts(
        specimen=Specimen(tag="A1", species="Nobody knows"), state=state_of([note("Ink escaped")])
    )
    assert worklist([facts], NEXT).tasks == ()
    assert rest_of(facts, NEXT).reason is RestReason.MISSING
