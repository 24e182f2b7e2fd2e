"""Whatever comes in gets a short reply, breaks nothing and stores nothing false."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.conversation.model import Incoming, Photo
from storage import Store
from tests.conversation.given import CHAT, at
from tests.conversation.replay import Player

SAID = (
    "fed Pebble Rust GBB B2 B 3 A1 shelf all but 2 crickets roach refused sealed molted yesterday undo no",
    "why ? more when did last eat who is due make it that was remind me in days add animal",
    "done except later skip Friday 30 Feb <b> 170 cm died hold until June every and not",
)
WORDS = st.sampled_from(" ".join(SAID).split())
ANYTHING = st.one_of(st.text(max_size=120), st.lists(WORDS, max_size=9).map(" ".join))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.one_of(ANYTHING, st.integers(0, 7)), min_size=1, max_size=6))
def test_whatever_comes_in_gets_a_short_reply_and_breaks_nothing(said):
    store = Store.open("sqlite://")
    player = Player(store)
    player.settle_in([])
    try:
        for each in said:
            if isinstance(each, int):
                buttons = [b for reply in player.shown for row in reply.buttons for b in row]
                replies = player.say(pressed=buttons[each % len(buttons)].data if buttons else "1:0")
            else:
                player.message += 1
                replies = player.say(text=each)
            player.shown += replies
            assert replies
            for reply in replies:
                assert 1 <= len(reply.text) <= 4000
                assert reply.text.strip()
                assert all(button.label.strip() for row in reply.buttons for button in row)
        today = date(2026, 5, 14)
        assert all(entry.day <= today for entry in player.entries())
    finally:
        store.close()


@pytest.mark.parametrize(
    "text",
    [
        "x" * 5000,
        "fed Pebble " * 500,
        "<b>Hello</b> & <script>alert(1)</script>",
        "\x00\x07\x1b[31mPebble\x1b[0m",
        "\u202efed\u202c",
        "   ",
        "🕷️🕷️🕷️",
        "DROP TABLE entry; --",
        "fed Pebble on 30 Feb",
        "fed Pebble tomorrow",
        "fed Nobodaddy a roach",
        "{who} {0} %s",
        'Pebbl"Fridy"die?',
    ],
)
def test_bad_input_gets_one_clear_line_and_stores_nothing(chat, text):
    chat.message += 1
    replies = chat.say(text=text)
    assert len(replies) == 1
    assert chat.entries() == []
    assert "{" not in replies[0].text or "{" in text


@pytest.mark.parametrize("what", ["sticker", "voice message", "location"])
def test_what_is_no_text_gets_one_line_that_names_it(chat, what):
    replies = chat.play(f"> [{what}]")
    assert len(replies) == 1
    assert what in replies[0].text


def test_a_photo_without_a_caption_asks_for_one(chat):
    chat.message += 1
    with chat.store.begin() as work:
        replies = chat.talk.respond(
            work,
            work.keepers.get(chat.keeper.id),
            CHAT,
            Incoming(sent_at=at(chat.now), photos=(Photo(reference="p"),)),
        )
    assert "caption" in replies[0].text


def test_an_amount_that_cannot_be_kept_is_refused_and_nothing_is_stored(chat):
    """The store keeps thousandths within limits; a reading may still hand it more."""
    chat.told("measured Clove 999999999999999999999 cm")
    assert chat.entries() == []
