"""Numbered animals told of by their number: "GBB 1 comió, la 2 no", "the number 4 GBB". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import NUMBER, row_of


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


def number_first(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with "number 4 GBB" as the animal of that number, and not as four of them."""

    def named(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        said = items[at : at + 3]
        if [item.cat for item in said[1:]] != ["N", "S"] or said[0].text not in NUMBER:
            return None
        row = names.numbered.get(base, {}) if (base := row_of(said[2], names)) else {}
        tag = _of_that_number(row, said[1]) if len(said[2].val.tags) > 1 else None
        if tag is None:
            return None
        words = f"{said[2].text} {said[1].text}"
        ref = Ref((tag,), how="aka", words=words, base=base)
        return at + 3, [Item("S", said[0].i, said[2].j, words, val=ref)]

    return replaced(items, named)


def _of_that_number(row: dict[str, str], number: Item) -> str | None:
    """The animal of a number, whose figures are as its name has them, or are said in a word."""
    said = number.text
    if said.isdigit():
        return row.get(said)
    return next((tag for figures, tag in row.items() if int(figures) == number.val.value), None)


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
