"""Of what sort an item is, where one is put in another's place, and where what is put there ends. Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item

#: Marks between what is taken back and what is meant.
PARTS: Final = frozenset({",", "–", "-", ".", "(", "…"})


def ends_there(items: Sequence[Item], at: int) -> bool:
    """Whether a mark other than one of a heading, or nothing, is behind an item."""
    closes = items[at + 1] if at + 1 < len(items) else None
    return closes is None or (closes.cat == "M" and closes.text not in ":-")


def has_a_meal(items: Sequence[Item], at: int) -> bool:
    """Whether a meal follows those named."""
    return at < len(items) and (is_number(items[at]) or is_prey(items[at]) or "a" in items[at].senses)


def is_number(item: Item) -> bool:
    """A number."""
    return item.cat == "N"


def is_day(item: Item) -> bool:
    """A day."""
    return item.cat == "D"


def is_amount(item: Item) -> bool:
    """An amount with its unit."""
    return item.cat == "A"


def is_amount_or_figure(item: Item) -> bool:
    """ "weighed 8.2, no sorry, 8.4 g": the figure taken back has not got its unit."""
    return item.cat == "A" or (item.cat == "U" and _FIGURE.fullmatch(item.text) is not None)


_FIGURE: Final = re.compile(r"\d{1,5}[.,]\d{1,3}")


def is_prey(item: Item) -> bool:
    """A feeder."""
    return "prey" in item.senses


def is_verb(item: Item) -> bool:
    """What somebody did."""
    return bool(item.senses.verbs)
