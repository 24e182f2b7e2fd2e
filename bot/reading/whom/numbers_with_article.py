"""Numbered animals told of by an article and their number: "GBB 1 comió, la 2 no". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import row_of


def with_article(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with "la 2" as the animal of that number, where its row of names was told of before.

    Only an article for one leads to it: "las 2" are so many of them.
    """
    out: list[Item] = []
    row: dict[str, str] = {}
    at = 0
    while at < len(items):
        if items[at].cat == "S":
            base = row_of(items[at], names)
            row = names.numbered[base] if base is not None else row
        tag = _told_there(items, at, row) if row else None
        if tag is None:
            out.append(items[at])
            at += 1
            continue
        words = f"{items[at].text} {items[at + 1].text}"
        out.append(Item("S", items[at].i, items[at + 1].j, words, val=Ref((tag,), how="aka", words=words)))
        at += 2
    return out


def _told_there(items: Sequence[Item], at: int, row: dict[str, str]) -> str | None:
    """The animal that an article and a number name there, where the number counts nothing behind it."""
    article = items[at].senses.get("the")
    number = items[at + 1] if at + 1 < len(items) else None
    if article is None or article.group.count != 1 or number is None or number.cat != "N":
        return None
    behind = items[at + 2] if at + 2 < len(items) else None
    counts = behind is not None and (behind.cat in "UA" or not _COUNTED.isdisjoint(behind.senses))
    return None if counts else row.get(number.text)


#: Senses of what a number right before it counts.
_COUNTED: Final = frozenset({"prey", "size", "ones", "prekilled", "dur", "group", "animal", "trait"})


def denied_in_brackets(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "a cricket for each juvenile (the lot not)": who is denied in brackets is told of by itself."""
    out = list(items)
    for at, item in enumerate(items):
        if item.text != "(":
            continue
        end = next((n for n in range(at + 1, len(items)) if items[n].text == ")"), len(items) - 1)
        inside = items[at + 1 : end]
        denied = bool(inside) and {"neg", "no"} <= inside[-1].senses.keys()
        if denied and all(i.cat == "S" or not _LISTS.isdisjoint(i.senses) for i in inside[:-1]):
            for mark in (at, end):
                out[mark] = Item("M", items[mark].i, items[mark].j, ",")
    return out


_LISTS: Final = frozenset({"and", "to", "the"})
