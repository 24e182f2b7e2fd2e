"""A question about one who is not on the shelf is answered by that, and not for somebody else."""

from __future__ import annotations

import pytest


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("when did X last molt?", "X"),
        ("when did Zoe last eat?", "Zoe"),
        ("how is zoe", "zoe"),
        ("is Zoe sealed?", "Zoe"),
        ("where is Zoe?", "Zoe"),
        ("history of Zoe", "Zoe"),
        ("how big is Zoe?", "Zoe"),
        ("should I feed Zoe tonight?", "Zoe"),
    ],
)
def test_one_whom_nobody_knows_is_said_to_be_unknown(chat, text, name):
    assert f"Nobody here is called “{name}”" in chat.told(text)


@pytest.mark.parametrize(
    "text",
    [
        "who is sealed?",
        "who's due?",
        "what did I last feed?",
        "when did anyone last molt?",
        "who is sealed right now",
        "anyone in premolt?",
        "what is due today?",
        "how is everyone?",
        "how is Pebble doing?",
        "when did the commune last eat?",
        "is Delve still sealed?",
        "and Rust?",
    ],
)
def test_a_question_about_the_shelf_or_one_of_it_is_answered(chat, text):
    assert "Nobody here is called" not in chat.told(text)
