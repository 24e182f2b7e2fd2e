"""A meal of another day that names no feeder: "8 pinheads monday and another 8 wednesday"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words


def so_many_again(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the feeder told before put behind a number that stands alone before another day."""
    out: list[Item] = []
    told: list[Item] = []
    for at, item in enumerate(items):
        if at and item.text in _MORE and out[-1] is not items[at - 1]:
            continue  # "one more today": the feeder stands behind the number now
        out.append(item)
        if item.cat in "SX" and out[:-1] and any(i.cat == "D" for i in out):
            told = []  # another animal, of whom another rule knows
        elif _is_prey(item):
            sized = at > 1 and "size" in items[at - 1].senses
            counted = items[at - 1 - sized] if at > sized else None
            told = [*items[at - sized : at], item] if counted is not None and counted.cat == "N" else []
        elif told and _counts(item) and _another_day(items, at):
            out += [_behind(item, said) for said in told]
    return out


def _counts(item: Item) -> bool:
    """A number, or "another", which is one more."""
    return item.cat == "N" or ("ones" in item.senses and "a" in item.senses)


def _is_prey(item: Item) -> bool:
    return "prey" in item.senses


def _another_day(items: Sequence[Item], at: int) -> bool:
    """Whether a number stands between "and" behind a day and a day of its own."""
    before = [i for i in items[max(0, at - 4) : at] if i.text not in _MORE]
    behind = [i for i in items[at + 1 : at + 4] if i.text not in _MORE]
    joined = len(before) > 1 and (before[-1].text == "," or "and" in before[-1].senses)
    dated = [i for i in before if i.cat == "D"]
    ends = len(behind) < 2 or behind[1].cat == "M" or "and" in behind[1].senses
    return joined and bool(dated) and bool(behind) and behind[0].cat == "D" and ends


_MORE: Final = rule_words("more_of_them")


def _behind(number: Item, said: Item) -> Item:
    """A word told before, once more where a number stands."""
    return Item("W", number.i, number.j, said.text, senses=said.senses)
