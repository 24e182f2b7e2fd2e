"""What is taken back with no mark before it, "Ink ate no she didn't", or by a "nope" that refuses nothing."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words

FIX: Final = frozenset({"fix"})
_DENIAL: Final = "denial"


def denials_apart(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a comma before words that say that nothing of it happened."""
    out: list[Item] = []
    for item in items:
        fix = item.senses.get("fix")
        if fix is not None and fix.group.act == _DENIAL and out and out[-1].cat != "M":
            out.append(Item("M", item.i, item.i, ","))
        out.append(item)
    return out


def nope_between_numbers(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "ate 1, nope, 2 supers": a plain "no", where "Ink: nope" is a refusal."""
    out = list(items)
    for at, item in enumerate(items):
        if item.text not in NOPE or "verb" not in item.senses:
            continue
        before = next((i for i in reversed(items[:at]) if i.text != "," and "prey" not in i.senses), None)
        behind = next((i for i in items[at + 1 :] if i.text != ","), None)
        if before is not None and behind is not None and before.cat == behind.cat == "N":
            out[at] = said_as(item, "no")
    return out


NOPE: Final = rule_words("says_no")
