"""What all of a list were offered, said on its first line: "Roaches tonight", then "A1 ✅", "A3 ❌". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.items.yes_and_no import ANSWERS
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.marks import TICKS

ENDS_A_LINE: Final = frozenset({"\n", "."})


def prey_on_top(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a colon behind prey that heads a list of ticks, line by line."""
    out = list(items)
    ends = next((at for at, item in enumerate(out) if item.text in ENDS_A_LINE), 0)
    first, sign = out[ends + 1 : ends + 2], out[ends + 2 : ends + 3]
    listed = bool(first) and first[0].cat == "S" and bool(sign) and sign[0].text in TICKS | ANSWERS.keys()
    if ends and listed and _is_prey_alone(out[:ends]):
        out[ends] = Item("M", out[ends].i, out[ends].j, ":")
    return out


def _is_prey_alone(items: Sequence[Item]) -> bool:
    prey = any("prey" in item.senses for item in items)
    return prey and all(item.cat in "ND" or not _OF_A_MEAL.isdisjoint(item.senses) for item in items)


_OF_A_MEAL: Final = frozenset({"prey", "size", "prekilled", "a", "the", "each"})
