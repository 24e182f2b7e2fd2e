"""Figures that take the place of others within a message: "15 cm, no, 16"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final

from bot.reading.items.item import Item


def in_that_unit(new: Item, out: Sequence[Item]) -> Item:
    """ "at 15 cm, no, 16": the number that takes the place of a length or weight is in its unit."""
    old = next((i for i in reversed(out) if i.cat in "NA" or i.text == "\n"), None)
    meant = _figure_meant(new)
    if old is None or old.cat != "A" or old.val.dimension not in IN_UNITS or meant is None:
        return new
    said = _FIGURE_SAID.match(old.text)
    if said is None or old.val.doubt or old.val.high is not None:
        return new
    figure = Decimal(said[0].replace(",", "."))
    if not figure or not _NEAR[0] < meant / figure < _NEAR[1]:
        return new
    value = old.val.value * meant / figure
    return Item("A", new.i, new.j, new.text, val=replace(old.val, value=value))


def _figure_meant(new: Item) -> Decimal | None:
    """The figure of a number, "16,5" among them, which is no count."""
    if decimal(new):
        return Decimal(new.text.replace(",", "."))
    return None if new.val.value is None or new.val.doubt else Decimal(new.val.value)


def decimal(item: Item) -> bool:
    """ "16.5", with no unit."""
    return item.cat == "U" and _DECIMAL.fullmatch(item.text) is not None


_DECIMAL: Final = re.compile(r"\d{1,4}[.,]\d{1,2}")
#: What is measured in units of which so many are so much; degrees are not.
IN_UNITS: Final = frozenset({"length", "weight", "volume", "humidity"})
_FIGURE_SAID: Final = re.compile(r"\d{1,5}(?:[.,]\d{1,3})?")
#: How far a value may be from the one that it takes the place of.
_NEAR: Final = (Decimal("0.4"), Decimal("2.5"))
