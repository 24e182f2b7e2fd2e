"""Numbers in brackets behind a row of names: "the GBBs (1, 2 and 4)", "the GBBs (4)"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames


def out_of_brackets(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with "(1, 2 and 4)" as "1, 2 and 4", and without a number that says how many they are."""
    for at in range(1, len(items) - 1):
        if items[at].text != "(" or items[at - 1].cat != "S" or items[at - 1].val.base is None:
            continue
        end = next((n for n in range(at + 1, len(items)) if items[n].text == ")"), at)
        row = names.numbered.get(items[at - 1].val.base, {})
        inside = [i for i in items[at + 1 : end] if i.text not in _LISTS and "and" not in i.senses]
        if not inside or not all(set(i.text.split(",")) <= row.keys() for i in inside):
            continue
        if len(inside) > 1 or "," in inside[0].text:
            return [*items[:at], *items[at + 1 : end], *items[end + 1 :]]
        return [*items[: at - 1], _so_many(items[at - 1], inside[0]), *items[end + 1 :]]
    return items


def _so_many(row: Item, number: Item) -> Item:
    """All of a row, where a number says that they are so many; another may be one of them or some."""
    ref = row.val
    if not ref.plural or number.text == str(len(ref.tags)):
        return row
    doubted = Ref(ref.tags, sure=False, how=ref.how, words=ref.words, plural=True, species=ref.species)
    return Item("S", row.i, row.j, row.text, val=doubted)


_LISTS: Final[Sequence[str]] = (",", "&", "+")
