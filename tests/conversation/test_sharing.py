"""A shelf for two: buttons in a group are for both of its keepers, and for nobody else."""

from __future__ import annotations

import pytest

from tests.conversation.replay import Player


@pytest.fixture
def two(chat: Player) -> Player:
    """The invented shelf with a partner, Robin."""
    chat.play("! invites a partner")
    chat.play("& Robin")
    chat.play("! opens the link")
    chat.play("& keeper")
    return chat


def meals(chat: Player) -> int:
    return sum(entry.kind == "fed" for entry in chat.entries())


@pytest.mark.parametrize(("where", "left"), [("-5", 0), ("elsewhere", 1)])
def test_a_partner_may_use_the_buttons_of_the_group_and_not_those_of_a_private_chat(two, where, left):
    two.chat = where
    two.told("Pebble ate 2 crickets")
    two.play("& Robin")
    two.chat = where
    two.press("Undo")
    two.play("& keeper")
    assert meals(two) == left


def test_what_is_said_in_a_group_is_no_news(two):
    two.chat = "-5"
    two.told("Pebble ate 2 crickets")
    two.play("& Robin")
    two.now = "2026-05-14 20:00"
    assert two.play("! news") == []


def test_both_say_all_done_and_each_animal_is_fed_once(two):
    two.now = "2026-05-15 08:00"
    two.shown += two.play("! round")
    two.told("all done")
    fed = meals(two)
    two.play("& Robin")
    two.shown += two.play("! round")
    two.told("all done")
    two.play("& keeper")
    assert meals(two) == fed > 0
