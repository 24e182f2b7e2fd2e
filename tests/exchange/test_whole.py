"""One JSON of all: what was written is read back, and writing that gives the same bytes."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.exchange.whole import FORMAT, NotAShelfError, WholeShelf, from_json, to_json
from bot.terms import Entry, Kind, Specimen

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
    )
    once = to_json(shelf)
    assert to_json(from_json(once)) == once
    assert from_json(once).specimens[0][0].name == name
    assert from_json(once).entries == shelf.entries


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
    ],
)
def test_what_is_no_shelf_is_refused_with_what_and_where(text, says):
    with pytest.raises(NotAShelfError, match=says):
        from_json(text)
