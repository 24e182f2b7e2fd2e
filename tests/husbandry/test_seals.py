"""How long burrows stayed sealed, counted on the calendar by hand."""

from __future__ import annotations

from datetime import date

from bot.husbandry.seals import seals_that_ended
from bot.terms import Entry, Kind


def entry(kind: Kind, day: str, tag: str = "R2") -> Entry:
    return Entry(kind=kind, day=date.fromisoformat(day), specimens=(tag,))


def test_a_seal_lasts_from_the_day_it_was_noted_to_the_day_it_was_open_or_a_meal_was_taken():
    told = [
        entry(Kind.SEALED, "2025-06-01"),
        entry(Kind.SEALED, "2025-06-03", "R3"),
        entry(Kind.SEALED, "2025-06-09"),  # noted again: it is the same seal
        entry(Kind.OPENED, "2025-07-10"),
        entry(Kind.FED, "2025-07-03", "R3"),
    ]
    assert sorted(seals_that_ended(told)) == [30, 39]


def test_a_seal_that_goes_on_and_an_opening_without_one_count_for_nothing():
    assert seals_that_ended([entry(Kind.OPENED, "2025-06-01"), entry(Kind.SEALED, "2025-07-01")]) == []
