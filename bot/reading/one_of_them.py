"""One of several told of with an article: in "se murió una de la comuna" it is one of the lot that died."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item
from bot.reading.names import ShelfNames
from bot.reading.numbers import NumberSpan


def one_of_them(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the article of "una de la comuna" as the number that it is there.

    No animal is "one of" itself: those that it is of are several, or one tag under which several live.
    """
    out = list(items)
    for at in range(len(out) - 2):
        if "a" not in out[at].senses or "of" not in out[at + 1].senses:
            continue
        whom = next((item for item in out[at + 2 : at + 4] if "the" not in item.senses), None)
        if whom is not None and _of_several(whom, names):
            out[at] = Item("N", out[at].i, out[at].j, out[at].text, val=NumberSpan(0, 1, 1))
    return out


def _of_several(item: Item, names: ShelfNames) -> bool:
    if item.cat != "S" or not item.val.tags:
        return False
    return len(item.val.tags) > 1 or names.by_tag[item.val.tags[0]].lot_size > 1
