"""A row of numbered names as a heading: "GBB roundup: 3 moulted, 1 and 4 had a fruit fly"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence, joins, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.marks import AND_MARKS, TITLE_MARKS


def headed_rows(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the name of a row, which is no animal's own where its numbers follow a heading."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        end = _end_of_heading(items, at, names)
        if end is None:
            return None
        head = items[at]
        row = Ref(
            head.val.tags, how=head.val.how, words=head.text, plural=True, base=head.val.base, group=True
        )
        return end, [Item("S", head.i, items[end - 1].j, head.text, val=row)]

    return replaced(items, stretch)


def _end_of_heading(items: Sequence[Item], at: int, names: ShelfNames) -> int | None:
    """Where the mark stands behind "GBB roundup", if a number of that row comes next."""
    head = items[at]
    opens = at == 0 or ends_sentence(items[at - 1])
    if not opens or head.cat != "S" or head.val.sure or head.val.base not in names.numbered:
        return None
    end = at + 1
    while end < len(items) and (items[end].cat == "U" or "fill" in items[end].senses):
        end += 1
    title = end > at + 1 and end + 1 < len(items) and items[end].text in TITLE_MARKS
    numbered = title and items[end + 1].text in names.numbered[head.val.base]
    return end if numbered and _is_told_of(items[end + 2 : end + 3]) else None


def _is_told_of(behind: Sequence[Item]) -> bool:
    """Whether a number is whom something is told of, and counts nothing: "3 moulted", "1 and 4 had …"."""
    return any(joins(item, AND_MARKS) or not _TOLD.isdisjoint(item.senses) for item in behind)


_TOLD: Final = frozenset({"verb", "did", "neg", "undone"})
