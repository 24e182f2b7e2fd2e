"""What is said for slings, a species or everyone holds for whoever is one, until it is taken back."""

from __future__ import annotations

import pytest

from bot.terms.schedule import EVERYONE, Care, Group, Schedule, Scope, SlowMonths

SLINGS = Group(Scope.STAGE, "sling")


def schedule_of(chat) -> Schedule:
    with chat.store.look() as work:
        return work.schedules.current(chat.keeper.shelf_id)


def own_of(chat) -> dict[str, int | None]:
    with chat.store.look() as work:
        return {one.specimen.tag: one.feed_every for one in work.shelves.facts(chat.keeper.shelf_id)}


def test_a_sling_that_comes_later_is_fed_as_was_said_and_one_that_grows_is_not(chat):
    chat.told("fed all slings")
    assert "Next meal about Sun 24 May" not in chat.told("when is Nib due?")
    chat.told("feed slings every 10 days")
    assert own_of(chat)["B3"] is None
    assert "Next meal about Sun 24 May" in chat.told("when is Nib due?")
    chat.told("add animal Zoe, Grammostola pulchra, sling, tag Z1")
    if chat.shown[-1].buttons and "Z1" not in own_of(chat):
        chat.press("Add, new today")
    chat.now = "2026-05-20 19:30"
    chat.told("fed Zoe")
    assert "every 10 days" in chat.told("when is Zoe due?")
    chat.told("Zoe is 7 cm")
    assert "every 8 days" in chat.told("when is Zoe due?")


@pytest.mark.parametrize(
    ("text", "key", "days"),
    [
        ("feed slings every 6 days", (Care.FEED, SLINGS), 6),
        ("water everyone every 6 days", (Care.WATER, EVERYONE), 6),
        ("feed the GBBs every 6 days", (Care.FEED, Group(Scope.SPECIES, "Chromatopelma cyaneopubescens")), 6),
    ],
)
def test_undo_and_its_undo_take_a_word_back_and_put_it_back(chat, text, key, days):
    assert chat.told(text)
    assert schedule_of(chat).every[key] == days
    chat.told("undo")
    assert not schedule_of(chat).every
    chat.press("Put it back")
    assert schedule_of(chat).every[key] == days


def test_undo_takes_slow_months_back(chat):
    chat.told("feed less from November to February")
    assert schedule_of(chat).slow == SlowMonths(11, 2)
    chat.told("no slow months")
    assert schedule_of(chat).slow is None
    chat.told("undo")
    assert schedule_of(chat).slow == SlowMonths(11, 2)


def test_nothing_changes_with_the_season_unless_the_keeper_has_said_so(chat):
    chat.now = "2026-12-01 19:30"
    chat.told("fed all")
    before = chat.told("what is due next week?")
    chat.told("feed less from June to August")
    assert chat.told("what is due next week?") == before
    chat.told("feed less from November to February")
    assert chat.told("what is due next week?") != before


def test_these_too_drops_what_was_said_for_fewer_and_undo_brings_it_back(chat):
    chat.told("feed Nib every 9 days")
    chat.told("feed the GBBs every 8 days")
    said = chat.told("feed slings every 5 days")
    assert (
        "What you said for fewer stays: Chromatopelma cyaneopubescens every 8 days, Nib (B3) every 9" in said
    )
    chat.press("These too")
    assert own_of(chat)["B3"] is None
    assert dict(schedule_of(chat).every) == {(Care.FEED, SLINGS): 5}
    chat.told("undo")
    assert own_of(chat)["B3"] == 9
    assert len(schedule_of(chat).every) == 2


@pytest.mark.parametrize(
    "text",
    ["feed slings every 5 to 7 days", "feed slings every month", "feed less", "feed the GBB every 5 days"],
)
def test_what_is_not_sure_sets_nothing(chat, text):
    chat.told(text)
    assert not schedule_of(chat).every
    assert schedule_of(chat).slow is None
    assert not any(own_of(chat).values())


def test_months_that_are_not_whole_are_asked_for(chat):
    assert "from which month to which" in chat.told("feed less from 15 November to March")
    assert schedule_of(chat).slow is None
