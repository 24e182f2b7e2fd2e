"""One of several feeders by the word that is an article as well: "bekam 2 Schaben, eine gefressen"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.numbers import NumberSpan

#: A message has both senses in one word where that may stand for one of some.
ONE: Final = frozenset({"one"})


def ones_counted(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with "eine" as a number where it is of prey told before: what became of it, or who had it."""
    out: list[Item] = []
    for at, item in enumerate(items):
        said = {"a", "one"} <= item.senses.keys() and (_became_of_it(items, at) or _is_all_she_had(items, at))
        counts = said and _of_some(out)
        span = NumberSpan(item.i, item.j, 1) if counts else None
        out.append(item if span is None else Item("N", item.i, item.j, item.text, val=span))
    return out


def _became_of_it(items: Sequence[Item], at: int) -> bool:
    """Whether a verb of eating or leaving follows right away."""
    nxt = items[at + 1] if at + 1 < len(items) else None
    kinds = nxt.senses.kinds if nxt is not None and nxt.cat == "W" else frozenset()
    return bool(kinds) and kinds <= FEEDING


def _is_all_she_had(items: Sequence[Item], at: int) -> bool:
    """ "Ink 2 Grillen, Mole nur eine": right behind an animal, and nothing behind it."""
    nxt = items[at + 1] if at + 1 < len(items) else None
    before = next((item for item in reversed(items[:at]) if "fill" not in item.senses), None)
    ends = nxt is None or nxt.cat == "M" or "and" in nxt.senses
    return ends and before is not None and before.cat == "S"


def _of_some(before: Sequence[Item]) -> bool:
    """Whether a number of feeders was told in an earlier clause."""
    marks = [n for n, item in enumerate(before) if item.cat == "M" or "and" in item.senses]
    told = before[: marks[-1]] if marks else []
    return any(a.cat == "N" and not {"prey", "size"}.isdisjoint(b.senses) for a, b in pairwise(told))
