"""Old notebooks: which day each note is of, and where that is asked instead of guessed. All are invented."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.reading import ShelfNames
from bot.reading.model import ReadingKind
from bot.reading.notebook import is_sure, notes_in, read_notes
from bot.terms import DateOrder, KeeperSettings, Specimen

TODAY = date(2026, 5, 14)
LONDON = ZoneInfo("Europe/London")


def days(text: str, **more) -> list[tuple[str, str]]:
    """Each note's words, with its day or why it has none."""
    said = {"today": TODAY, "order": DateOrder.DMY} | more
    return [(note.text, note.day.isoformat() if note.day else note.doubt) for note in notes_in(text, **said)]


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("12/3/2025 fed Ink", "2025-03-12"),
        ("12/3/25: fed Ink", "2025-03-12"),
        ("12.3.25 - fed Ink", "2025-03-12"),
        ("12-03-2025 fed Ink", "2025-03-12"),
        ("2025-03-12 fed Ink", "2025-03-12"),
        ("2025/3/12, fed Ink", "2025-03-12"),
        ("* 12/3/25 fed Ink", "2025-03-12"),
        ("Wed 12/3/25 fed Ink", "2025-03-12"),
        ("3 Nov 2025 fed Ink", "2025-11-03"),
        ("3rd of November 2025: fed Ink", "2025-11-03"),
        ("Nov 3, 2025 fed Ink", "2025-11-03"),
        ("November 3rd 2025 fed Ink", "2025-11-03"),
        ("29/2/24 fed Ink", "2024-02-29"),
        ("1/1/99 fed Ink", "1999-01-01"),
    ],
)
def test_a_date_at_a_lines_beginning_is_the_notes_day(line, day):
    assert days(line) == [("fed Ink", day)]


def test_the_order_of_day_and_month_is_the_keepers():
    assert days("3/12/2025 fed Ink", order=DateOrder.MDY) == [("fed Ink", "2025-03-12")]
    assert days("25/3/12 fed Ink", order=DateOrder.YMD) == [("fed Ink", "2025-03-12")]


@pytest.mark.parametrize(
    "text",
    [
        "3/12/2025 fed Ink\n5/13/2025 fed Mole",  # 5/13 is no day of DMY: the writer puts the month first
        "13/5/2025 fed Mole\n5/13/2025 Mole ate\n3/12/2025 fed Ink",
    ],
)
def test_a_date_that_fits_the_other_order_alone_makes_all_that_fit_both_a_question(text):
    doubts = {n.text: n.doubt for n in notes_in(text, today=date(2026, 5, 14), order=DateOrder.DMY)}
    assert doubts["fed Ink"] == "either_order"


def test_dates_that_fit_one_order_alone_are_taken_though_others_are_asked_about():
    text = "13/5/2025 fed Mole\n5/13/2025 fed Ink\n7/7/2025 fed May"
    found = {n.text: n.day for n in notes_in(text, today=date(2026, 5, 14), order=DateOrder.DMY)}
    assert found == {"fed Mole": date(2025, 5, 13), "fed Ink": None, "fed May": date(2025, 7, 7)}


def test_a_date_alone_is_that_of_the_lines_below_it():
    text = "3 Nov 2025\nfed Ink\n\n- watered Mole\n== 5 Nov ==\nMole molted"
    assert days(text) == [
        ("fed Ink", "2025-11-03"),
        ("watered Mole", "2025-11-03"),
        ("Mole molted", "2025-11-05"),
    ]


def test_a_year_goes_on_and_turns_where_the_days_start_anew():
    text = "2024\n28/12 fed Ink\n3/1 fed Ink\n12/3 fed Ink"
    assert [day for _, day in days(text)] == ["2024-12-28", "2025-01-03", "2025-03-12"]
    assert days("28/12 fed Ink", year=2023) == [("fed Ink", "2023-12-28")]


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("fed Ink", "no_day"),
        ("12/3 fed Ink", "no_year"),
        ("12/3/25 fed Ink\n12/2 fed Ink", "days_out_of_order"),
        ("31/2/25 fed Ink", "no_such_day"),
        ("2/13/25 fed Ink", "no_such_day"),
        ("15/5/26 fed Ink", "future_day"),
        ("1/5/25\n1/2 roach for Ink", "date_or_not"),
        ("1/5/25\nMay 2 crickets", "date_or_not"),
    ],
)
def test_where_the_day_would_be_a_guess_it_is_asked(text, doubt):
    assert days(text, names=["May"])[-1][1] == doubt


def test_what_is_in_doubt_stays_so_until_the_next_date():
    text = "12/3 fed Ink\nwatered Mole\n13/3/2025 fed Mole"
    assert [day for _, day in days(text)] == ["no_year", "no_year", "2025-03-13"]


def test_remarks_and_empty_lines_say_nothing():
    assert days("# 12/3/25 fed Ink\n\n   \n12/3/25\n***") == []


@given(st.text(max_size=300), st.sampled_from(DateOrder))
def test_no_text_raises_and_no_note_is_of_a_day_to_come(text, order):
    for note in notes_in(text, today=TODAY, order=order):
        assert note.day is None or note.day <= TODAY
        assert (note.day is None) == bool(note.doubt)
        assert note.written in text


def test_notes_are_read_as_on_the_evening_of_their_day_and_pronouns_go_on():
    names = ShelfNames.of((Specimen(tag="C1", name="Ink", species="Grammostola pulchra"),))
    settings = KeeperSettings(zone="Europe/London")
    notes = notes_in(
        "12/3/25 fed Ink 2 crickets yesterday\n13/3/25 she molted", today=TODAY, order=DateOrder.DMY
    )
    now = datetime(2026, 5, 14, 19, 30, tzinfo=LONDON)
    meal, molt = read_notes(notes, names, now=now, settings=settings)
    assert [entry.day for entry in meal.reading.entries] == [date(2025, 3, 11)]
    assert is_sure(molt)
    assert [(e.kind.value, e.specimens, e.day) for e in molt.reading.entries] == [
        ("molted", ("C1",), date(2025, 3, 13))
    ]


def test_a_note_of_nobody_here_is_asked_about():
    names = ShelfNames.of((Specimen(tag="C1", name="Ink", species="Grammostola pulchra"),))
    notes = notes_in("12/3/25 fed Zorro", today=TODAY, order=DateOrder.DMY)
    (read,) = read_notes(
        notes, names, now=datetime(2026, 5, 14, 19, 30, tzinfo=LONDON), settings=KeeperSettings(zone="UTC")
    )
    assert read.reading.reading is ReadingKind.ASK
    assert not is_sure(read)
