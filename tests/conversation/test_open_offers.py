"""What is told of an animal whose offer is open: its outcome, another meal, or a question."""

from __future__ import annotations

from datetime import date

import pytest

from bot.terms import Kind
from tests.conversation.given import SETTINGS, at, entry_from
from tests.conversation.replay import Player

TODAY, YESTERDAY = date(2026, 5, 14), date(2026, 5, 13)


@pytest.fixture
def offered(chat) -> Player:
    with chat.store.begin() as work:
        change = work.journal.change(
            chat.keeper.shelf_id, chat.keeper.id, at=at("2026-05-13 19:00"), origin=None
        )
        given = (
            "2026-05-10 fed R1 prey=roach count=1",
            "2026-05-13 offered R1 prey=roach count=2 size=small",
        )
        work.journal.log(change, [entry_from(line) for line in given], zone=SETTINGS.zone)
    chat.now = "2026-05-14 08:00"
    return chat


def _outcomes(chat: Player) -> list[tuple[Kind, date, str | None, int | None]]:
    return [
        (entry.kind, entry.day, entry.prey, entry.count)
        for entry in chat.entries()
        if entry.kind in (Kind.FED, Kind.REFUSED) and entry.day >= YESTERDAY
    ]


@pytest.mark.parametrize(
    "said",
    [
        "moss ate yesterdays",
        "moss ate yesterday's",
        "moss took it in the end",
        "moss took yesterdays roaches",
        "moss ate overnight",
        "moss ate yesterday",
        "moss ate the offer",
    ],
)
def test_a_meal_told_as_that_of_the_offer_is_its_outcome_on_its_day(offered, said):
    offered.told(said)
    assert _outcomes(offered) == [(Kind.FED, YESTERDAY, "roach", 2)]


@pytest.mark.parametrize("said", ["moss refused yesterday's", "moss refused it in the end"])
def test_a_refusal_told_as_that_of_the_offer_is_its_outcome_on_its_day(offered, said):
    offered.told(said)
    assert _outcomes(offered) == [(Kind.REFUSED, YESTERDAY, "roach", 2)]


def test_fewer_than_offered_may_have_been_eaten(offered):
    offered.told("moss ate 1 of yesterdays roaches")
    assert _outcomes(offered) == [(Kind.FED, YESTERDAY, "roach", 1)]


@pytest.mark.parametrize(
    ("answer", "stored"),
    [("yes", (Kind.FED, YESTERDAY, "roach", 2)), ("no", (Kind.FED, TODAY, None, None))],
)
def test_a_bare_meal_beside_an_open_offer_is_asked_about(offered, answer, stored):
    assert "offered 2 small roaches yesterday" in offered.told("moss ate")
    assert _outcomes(offered) == []
    offered.told(answer)
    assert _outcomes(offered) == [stored]


@pytest.mark.parametrize("said", ["moss ate a cricket", "fed moss 4 roaches"])
def test_other_prey_or_more_of_it_is_another_meal(offered, said):
    offered.told(said)
    assert [(kind, day) for kind, day, *_ in _outcomes(offered)] == [(Kind.FED, TODAY)]


def test_an_offer_that_the_round_asks_about_no_more_is_not_asked_about(offered):
    offered.now = "2026-05-30 08:00"
    assert "offered" not in offered.told("moss ate")
