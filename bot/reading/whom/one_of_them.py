"""One of several told of with an article: in "se murió una de la comuna" it is one of the lot that died."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.numbers import NumberSpan


def one_of_them(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the article of "una de la comuna" as the number that it is there.

    No animal is "one of" itself: those that it is of are several, or one tag under which several live.
    """
    out = list(items)
    out.append(_NOTHING)
    out.append(_NOTHING)
    for at in range(len(out) - 2):
        if "a" not in out[at].senses or "of" not in out[at + 1].senses:
            _one_of_a_lot(out[at], out[at + 1], names)
            continue
        whom = next((item for item in out[at + 2 : at + 4] if "the" not in item.senses), None)
        if whom is not None and _of_several(whom, names):
            out[at] = Item("N", out[at].i, out[at].j, out[at].text, val=NumberSpan(0, 1, 1))
    return out[:-2]


#: Stands behind the last item, so that each has another behind it.
_NOTHING: Final = Item("M", 0, 0, "")
#: How an animal is named by what it is.
_SORTS: Final = frozenset({"species", "common", "genus"})


def _one_of_a_lot(article: Item, whom: Item, names: ShelfNames) -> None:
    """ "ha muerto una balfouri", of which several live under one tag: one of them."""
    sort = "a" in article.senses and whom.cat == "S" and whom.val.how in _SORTS
    if sort and len(whom.val.tags) == 1 and names.by_tag[whom.val.tags[0]].lot_size > 1:
        whom.val.lot_part = 1


def _of_several(item: Item, names: ShelfNames) -> bool:
    if item.cat != "S" or not item.val.tags:
        return False
    return len(item.val.tags) > 1 or names.by_tag[item.val.tags[0]].lot_size > 1
