"""Help shows what works: every example in it is played on the shelf that it is made from."""

from __future__ import annotations

import re

import pytest

from bot.conversation.texts import say
from tests.conversation.replay import Player


def examples(help_text: str) -> list[str]:
    """What stands in quotation marks."""
    return re.findall("“([^”]+)”", help_text)


def test_help_speaks_of_the_keepers_own_animals(chat):
    said = chat.told("help")
    assert "“Pebble ate 2 crickets”" in said
    assert "“fed shelf A but Clove”" in said
    assert "“history of A1”" in said


@pytest.mark.parametrize(
    "number",
    range(
        len(
            examples(
                say("help.text", **dict.fromkeys(["first", "second", "third", "tag", "place", "but"], "x"))
            )
        )
    ),
)
def test_every_example_of_the_help_is_understood(chat, number):
    example = examples(chat.told("help"))[number]
    if example in ("undo", "make it 3") or example.startswith("no, "):
        chat.told("fed Pebble 2 crickets")
    replies = chat.say(example)
    assert replies
    assert not any("did not understand" in reply.text or "Nobody here" in reply.text for reply in replies)


def test_an_empty_shelf_gets_invented_examples(store):
    newcomer = Player(store)
    newcomer.settle_in(["newcomer: yes"])
    assert "“fed everyone but Rust”" in newcomer.told("help")
