"""How the words of a message were taken."""

from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, explained
from bot.terms import KeeperSettings, Specimen

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
#: An invented shelf.
SHELF = ShelfNames.of(
    [
        Specimen(tag="Q1", name="Clove", species="Grammostola rosea", span_cm=Decimal(12)),
        Specimen(tag="Q2", name="Tansy", species="Tliltocatl vagans"),
    ]
)


def lines(text: str) -> tuple[str, ...]:
    settings = KeeperSettings(zone="Europe/Dublin")
    return tuple(map(str, explained(text, SHELF, now=NOW, settings=settings)))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("fed Clove two crix yesterday", "“Clove” = Clove (Q1)"),
        ("fed Clove two crix yesterday", "“crix” = cricket"),
        ("fed Clove two crix yesterday", "“two” = 2"),
        ("fed Clove two crix yesterday", "“yesterday” = 2026-05-13"),
        ("fed Clove two crix yesterday", "“fed” = fed"),
        ("Tansy 7 in", "“7 in” = 17.78 cm"),
        ("Clove splorged a roach", "“splorged” = ?"),
    ],
)
def test_each_word_says_what_it_was_taken_for(text: str, line: str) -> None:
    assert line in lines(text)


def test_marks_and_small_words_are_passed_over() -> None:
    assert lines("so, the Clove ate!") == ("“the Clove” = Clove (Q1)", "“ate” = fed")


def test_words_that_only_hold_a_message_together_need_no_explanation() -> None:
    told = ("“roach” = roach", "“will” = still to come", "“eat” = fed")
    assert lines("who had a roach, will he eat?")[-3:] == told
    assert not any(
        word in " ".join(lines("who had his roach, will he eat?")) for word in ("pron", "rel", "fill")
    )


def test_nothing_said_is_nothing_explained() -> None:
    assert lines("🕷️ …") == ()
