"""A yes or a no right behind an animal: "Biscuit no, May yes"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words

#: What an animal did, in a list of such: "Biscuit no, May yes".
ANSWERS: Final = dict.fromkeys(rule_words("says_no"), "✗") | dict.fromkeys(rule_words("says_yes"), "✓")


def answers(items: Sequence[Item], place: int) -> bool:
    """Whether a "yes" or "no" stands right behind an animal: "Biscuit no"."""
    return place > 0 and items[place].text in ANSWERS and items[place - 1].cat == "S"
