"""Short words that are written with a point: "Saffron u. Sunny"."""

from __future__ import annotations

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames


def without_their_points(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items without a point right behind a word that joins, which ends no sentence."""
    return [
        item
        for at, item in enumerate(items)
        if not (item.text == "." and at and "and" in items[at - 1].senses and at + 1 < len(items))
    ]
