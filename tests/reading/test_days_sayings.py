"""The two words a rule of days can begin with. All rules here are invented."""

from __future__ import annotations

import pytest

from bot.reading.days.sayings import Slot, openings, parsed

SLOTS = {
    "n": Slot("n", ["two", "a couple of", "half a"], figures=True),
    "unit": Slot("unit", ["days", "weeks"], figures=False),
}


def _begins(say: str) -> set[tuple[str, str | None]]:
    return {
        (first, second)
        for opening in openings(parsed(say), SLOTS.__getitem__)
        for first in opening.firsts
        for second in (opening.seconds if opening.seconds is not None else [None])
    }


@pytest.mark.parametrize(
    ("say", "begins"),
    [
        ("today", {("today", None)}),
        ("the other day", {("the", "other")}),
        ("[on ]sunday", {("on", "sunday"), ("sunday", None)}),
        ("(this|that) day", {("this", "day"), ("that", "day")}),
        (
            "{n} {unit}",
            {
                *[(first, second) for first in ("#", "two") for second in ("days", "weeks")],
                ("a", "couple"),
                ("half", "a"),
            },
        ),
        ("{n}th", {("#+", None), ("twoth", None), ("a", "couple"), ("half", "ath")}),
        ("at {n}", {("at", "#"), ("at", "two"), ("at", "a"), ("at", "half")}),
    ],
)
def test_a_rule_is_filed_under_each_pair_of_words_it_can_begin_with(say, begins):
    assert begins <= _begins(say)  # whole lists are filed at once, so a few more do no harm


def test_brackets_that_do_not_match_are_refused():
    with pytest.raises(ValueError, match="brackets"):
        parsed("[on sunday")
