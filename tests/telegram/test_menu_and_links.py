"""The menu and the links of labels and invitations."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.telegram import deep_link, menu
from bot.telegram.deep_link import InviteLink, TagLink, what_is_asked


def test_the_menu_keeps_to_the_limits_of_the_bot_api():
    # Bot API, BotCommand: 1-32 of a-z 0-9 _, description 1-256; setMyCommands: at most 100
    commands = menu.for_telegram()
    assert 1 <= len(commands) <= 100
    assert len({command["command"] for command in commands}) == len(commands)
    for command in commands:
        assert re.fullmatch(r"[a-z0-9_]{1,32}", command["command"])
        assert 1 <= len(command["description"]) <= 256


@given(st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=11))
def test_a_tag_comes_back_from_its_link(tag):
    payload = deep_link.payload_for_tag(tag)
    # Bot API, deep linking: up to 64 of A-Z a-z 0-9 _ -
    assert re.fullmatch(r"[A-Za-z0-9_-]{1,64}", payload)
    asked = what_is_asked(payload)
    assert asked == (TagLink(tag) if tag.isprintable() else None)


def test_a_tag_too_long_for_a_link_is_refused():
    with pytest.raises(ValueError, match="too long"):
        deep_link.payload_for_tag("T" * 48)


def test_an_invite_comes_back_from_its_link():
    assert what_is_asked(deep_link.payload_for_invite("aB-9_")) == InviteLink("aB-9_")
    assert deep_link.link("burrow_test_bot", "iX") == "https://t.me/burrow_test_bot?start=iX"


@pytest.mark.parametrize("payload", ["", "t", "i", "x12", "t!!", "tAAA=", "t_w", "a" * 65, "i" * 65])
def test_what_is_none_of_ours_asks_nothing(payload):
    assert what_is_asked(payload) is None
