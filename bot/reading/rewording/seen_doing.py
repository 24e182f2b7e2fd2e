"""What the keeper saw an animal do: "saw her grab it" tells what "she grabbed it" does. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_meanings, rule_words


def seen_doing(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with what was seen told as what was done, and without the word for seeing."""
    out = list(items)
    for at in range(len(out) - 3, -1, -1):
        seen = out[at].text in SEEING and not _denied(out, at)
        if seen and len(out) > at + 2 and _whom(out[at + 1]) and out[at + 2].text in _DONE:
            out[at + 2] = said_as(out[at + 2], _DONE[out[at + 2].text])
            out[_opening(out, at) : at + 1] = [Item("M", out[at].i, out[at].j, ",")] if at else []
    return out


SEEING: Final = rule_words("seeing")
#: What an animal is seen to do in its bare form, with what it then did.
_DONE: Final = rule_meanings("seen_doing")


def _opening(items: Sequence[Item], at: int) -> int:
    """Where the words for seeing begin: "I just saw"."""
    while at and not {"self", "fill", "did"}.isdisjoint(items[at - 1].senses):
        at -= 1
    return at


def _whom(item: Item) -> bool:
    pron = item.senses.get("pron")
    return item.cat == "S" or (pron is not None and pron.group.sex is not None)


def _denied(items: Sequence[Item], at: int) -> bool:
    """ "didn't see her take it", "want to see her eat"."""
    before = items[at - 1].senses if at else {}
    return not {"neg", "undone", "to", "future", "cond", "hedge"}.isdisjoint(before)
