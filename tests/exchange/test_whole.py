"""One JSON of all: what was written is read back, and writing that gives the same bytes."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.exchange.how_often import HowOften
from bot.exchange.whole import FORMAT, NotAShelfError, WholeShelf, from_json, to_json
from bot.terms import Entry, Kind, Specimen, Stage
from bot.terms.schedule import EVERYONE, Care, Group, Schedule, Scope, SlowMonths

HOSTILE = st.text(min_size=1, max_size=30).filter(lambda text: text == text.strip()) | st.sampled_from(
    ["=1+1", "🕷️ Zoë", "شبح", 'a "b", c', "two\nlines", "\u202eevil", "-5", "'quoted", "\u0000", "{}"]
)


@given(tag=HOSTILE, name=st.none() | HOSTILE, note=HOSTILE, on=st.none() | st.dates(), cm=st.integers(1, 300))
def test_export_import_export_is_the_same_to_the_byte(tag, name, note, on, cm):
    tenth = Decimal(cm) / 10
    shelf = WholeShelf(
        specimens=((Specimen(tag=tag, species="Caribena versicolor", name=name, span_cm=tenth), on),),
        entries=(
            Entry(kind=Kind.NOTE, day=date(2026, 1, 1), specimens=(tag,), note=note),
            Entry(kind=Kind.MEASURED, day=date(2026, 1, 2), specimens=(tag,), span_cm=tenth),
        ),
        settings={"zone": "Europe/London"},
        more={"handovers": [{"called": note, "first_day": "2026-01-01"}]},
    )
    once = to_json(shelf)
    assert to_json(from_json(once)) == once
    assert from_json(once).specimens[0][0].name == name
    assert from_json(once).entries == shelf.entries


WORDS = st.text(min_size=1, max_size=20).filter(str.strip)
GROUPS = (
    st.builds(Group, st.just(Scope.SPECIES), WORDS)
    | st.builds(Group, st.just(Scope.STAGE), st.sampled_from([stage.value for stage in Stage]))
    | st.just(EVERYONE)
)
SLOW = st.none() | st.builds(SlowMonths, st.integers(1, 12), st.integers(1, 12))


@given(
    st.dictionaries(st.tuples(st.sampled_from(Care), GROUPS), st.integers(1, 60), max_size=5),
    SLOW,
    st.lists(st.tuples(WORDS, st.sampled_from(Care), st.integers(1, 60)), max_size=4),
)
def test_how_often_is_read_back_as_it_was_said(every, slow, own):
    said = HowOften(Schedule(every, slow), tuple(own))
    shelf = WholeShelf(specimens=(), entries=(), settings={}, how_often=said)
    assert from_json(to_json(shelf)).how_often == said


@pytest.mark.parametrize(
    "row",
    [
        {"work": "walk", "for": "shelf", "value": None, "every_days": 3},
        {"work": "feed", "for": "planet", "value": None, "every_days": 3},
        {"work": "feed", "for": "stage", "value": "larva", "every_days": 3},
        {"work": "feed", "for": "species", "value": " ", "every_days": 3},
        {"work": "feed", "for": "specimen", "value": None, "every_days": 3},
        {"work": "feed", "for": "shelf", "value": None, "every_days": 0},
        {"work": "feed", "for": "shelf", "value": None, "every_days": 1.5},
        {"work": "feed", "for": "shelf", "value": None, "every_days": 10**30},
        {"work": "slow", "first_month": 0, "last_month": 2},
        {"work": "slow"},
        {},
    ],
)
def test_a_word_on_how_often_that_cannot_be_is_refused_with_its_row(row):
    fine = {"work": "feed", "for": "shelf", "value": None, "every_days": 3}
    with pytest.raises(NotAShelfError, match="how_often 2: "):
        from_json(json.dumps({"format": FORMAT, "version": 1, "how_often": [fine, row]}))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is not JSON"),
        ("[" * 100_000, "is not JSON"),
        ("[]", "is no shelf"),
        ('{"format": "something else"}', "is no shelf"),
        (json.dumps({"format": FORMAT, "version": 99}), "is of version 99"),
        (json.dumps({"format": FORMAT, "version": 1, "specimens": {}}), "specimens must be a list"),
        (json.dumps({"format": FORMAT, "version": 1, "specimens": [{"tag": "A1"}]}), "specimens 1: "),
        (json.dumps({"format": FORMAT, "version": 1, "journal": [{"kind": "flew"}]}), "journal 1: "),
        (json.dumps({"format": FORMAT, "version": 1, "journal": [{"kind": "fed", "day": 7}]}), "journal 1: "),
        (
            json.dumps(
                {"format": FORMAT, "version": 1, "journal": [{"kind": "fed", "day": "2026-01-01", "x": 1}]}
            ),
            "journal 1: ",
        ),
        (
            json.dumps(
                {
                    "format": FORMAT,
                    "version": 1,
                    "journal": [{"kind": "fed", "day": "2026-01-01", "specimens": None}],
                }
            ),
            "journal 1: ",
        ),
    ],
)
def test_what_is_no_shelf_is_refused_with_what_and_where(text, says):
    with pytest.raises(NotAShelfError, match=says):
        from_json(text)
