"""Telegram's pace (its FAQ for bots): 30 a second over all, about one in a chat, 20 a minute in a group."""

from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.telegram.pace import Pace


def send_all(chats):
    """The moments at which messages to these chats go out, each as early as the pace lets it."""
    pace, now, sent = Pace(), 1000.0, []
    waiting = list(chats)
    while waiting:
        ready = next((chat for chat in waiting if pace.wait_for(chat, now) <= 1e-9), None)
        if ready is None:
            now += min(pace.wait_for(chat, now) for chat in waiting)
            continue
        pace.take(ready, now)
        waiting.remove(ready)
        sent.append((now, ready))
    return sent


def most_within(moments, seconds):
    return max(sum(start <= m < start + seconds for m in moments) for start in moments)


@given(st.lists(st.sampled_from([1, 2, 3, -1, -2]), min_size=1, max_size=90))
@settings(max_examples=60, deadline=None)
def test_no_limit_is_ever_passed(chats):
    sent = send_all(chats)
    assert most_within([moment for moment, _ in sent], 1.0) <= 30
    by_chat = defaultdict(list)
    for moment, chat in sent:
        by_chat[chat].append(moment)
    for chat, moments in by_chat.items():
        if chat < 0:
            assert most_within(moments, 60.0) <= 20
        else:
            assert most_within(moments, 10.0) <= 13


def test_a_thousand_rounds_take_less_than_a_minute():
    sent = send_all(range(1, 1001))
    assert sent[-1][0] - sent[0][0] < 60
    assert most_within([moment for moment, _ in sent[:200]], 1.0) <= 30


def test_three_messages_in_a_row_need_not_wait():
    assert len({moment for moment, _ in send_all([7, 7, 7])}) == 1


def test_a_chat_that_is_held_leaves_the_others_alone():
    pace = Pace()
    pace.hold(7, 35, 0.0)
    assert pace.wait_for(7, 1.0) == pytest.approx(34)
    assert pace.wait_for(8, 1.0) == 0


def test_a_second_chat_held_meanwhile_holds_all():
    pace = Pace()
    pace.hold(7, 35, 0.0)
    pace.hold(8, 20, 1.0)
    assert pace.wait_for(9, 1.0) == pytest.approx(20)
    assert pace.wait_for(9, 21.5) == 0


def test_idle_chats_are_forgotten():
    pace = Pace()
    for chat in range(1, 5001):
        pace.take(chat, float(chat * 10))
    assert len(pace._chats) <= 2001
