"""The day of an order put right within it, and what a correction behind what was told changes."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import Reading
from bot.terms import Kind
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 5, 14, 12, 0, tzinfo=ZoneInfo("Europe/Dublin"))


def _reading(text: str) -> Reading:
    return read(text, SHELF.names, now=NOW, settings=SHELF.settings)


@pytest.mark.parametrize(
    ("text", "day", "at"),
    [
        ("remind me in 2 weeks, no make it 10 days, to offer Little Bess food", date(2026, 5, 24), None),
        ("remind me in 2 weeks no 3 weeks to feed Ink", date(2026, 6, 4), None),
        ("remind me tomorrow, no, Saturday to feed Ink", date(2026, 5, 16), None),
        ("remind me to feed Ink in 2 weeks, no, 10 days", date(2026, 5, 24), None),
        ("remind me to feed Ink on Friday, make it Saturday", date(2026, 5, 16), None),
        ("remind me to feed Ink on Friday. No, Saturday", date(2026, 5, 16), None),
        ("remind me to feed Ink at 8 no 9", date(2026, 5, 14), time(21, 0)),
        ("remind me 0730 tomorrow check Mole's seal", date(2026, 5, 15), time(7, 30)),
        # nothing is put right
        ("remind me tomorrow to feed Ink, no rush", date(2026, 5, 15), None),
        ("remind me tomorrow that there is no food for Ink", date(2026, 5, 15), None),
    ],
)
def test_a_reminder_comes_on_the_day_that_was_meant_in_the_end(text, day, at):
    reminder = _reading(text).reminder
    assert reminder is not None
    assert (reminder.day, reminder.time) == (day, at)


@pytest.mark.parametrize(
    ("text", "until"),
    [
        ("pause Ink for 2 weeks no 3", date(2026, 6, 4)),
        ("pause Ink for 2 weeks, make it 3 weeks", date(2026, 6, 4)),
        ("pause Ink until Friday, no, Saturday", date(2026, 5, 16)),
        ("hold Ink until 1 June, sorry, 10 June", date(2026, 6, 10)),
        ("no feeding nags for Ink til xmas", date(2026, 12, 25)),
    ],
)
def test_a_pause_ends_on_the_day_that_was_meant_in_the_end(text, until):
    hold = _reading(text).hold
    assert hold is not None
    assert hold.until == until


@pytest.mark.parametrize("marks", ["{0} no {1}", "{0}, no, {1}", "{0}, sorry, {1}", "{0}, make it {1}"])
@pytest.mark.parametrize(("first", "second", "days"), [(2, 3, 3), (10, 14, 14), (30, 7, 7)])
def test_a_number_of_days_put_right_is_the_second_whatever_stands_between(marks, first, second, days):
    said = marks.format(f"in {first} days", f"{second} days")
    reminder = _reading(f"remind me {said} to feed Ink").reminder
    assert reminder is not None
    assert (reminder.day - NOW.date()).days == days


@pytest.mark.parametrize(
    ("text", "changes", "kinds"),
    [
        ("should be refused not fed", {"kind": Kind.REFUSED}, set()),
        ("that was refused not fed", {"kind": Kind.REFUSED}, set()),
        ("hopper i meant, not cricket", {"prey": "locust"}, set()),
        ("a hopper I meant", {"prey": "locust"}, set()),
        ("nah, T12 not T07", {"specimens": ("T12",)}, set()),
        ("the molt was on the 12th not the 13th", {"day": date(2026, 5, 12)}, {Kind.MOLTED, Kind.MATURED}),
        ("it was on the 12th not the 13th", {"day": date(2026, 5, 12)}, set()),
    ],
)
def test_a_correction_changes_what_was_denied_and_tells_of_which_kind_it_is(text, changes, kinds):
    amend = _reading(text).amend
    assert amend is not None
    assert (dict(amend.changes), set(amend.of.kinds if amend.of is not None else ())) == (changes, kinds)


@pytest.mark.parametrize(
    ("corpus_of", "text", "day"),
    [
        ("de/abend", "erinnere mich in 2 Wochen, nein, in 10 Tagen, Ink zu füttern", date(2026, 5, 24)),
        ("de/abend", "pausiere Ink 2 Wochen, nein, 3 Wochen", date(2026, 6, 4)),
        ("es/tarde", "recuérdame en 2 semanas, no, en 10 días, alimentar a Ink", date(2026, 5, 24)),
    ],
)
def test_orders_are_put_right_in_german_and_spanish_too(corpus_of, text, day):
    shelf = corpus(corpus_of)
    said = read(text, shelf.names, now=NOW, settings=shelf.settings)
    assert (said.reminder.day if said.reminder is not None else said.hold.until) == day
