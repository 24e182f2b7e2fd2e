"""Everybody, behind a list: "shelf B and C, a dubia each. All took it" is of those listed. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items.item import Item, Ref, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames


def of_those_listed(
    ref: Ref, items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> None:
    """Keeps an "everyone" to those whom the sentences before say to have been given something.

    Where these say of some what came of it, it may be of them or of the whole shelf, which is asked.
    """
    if not before or not ends_sentence(before[-1]) or not _only_came_of_it(items, at + 1):
        return
    named = [i.val for i in before if i.cat == "S"]
    tags = names.in_order(t for other in named for t in other.tags)
    fed = any("prey" in i.senses or _feeds(i) for i in before)
    if not (tags and fed) or len(tags) == len(names.specimens):
        return
    if len(tags) > 1 and all(other.sure for other in named) and not any(map(_came_of_it, before)):
        ref.tags = tags
    else:
        ref.sure, ref.doubt = False, "some_of_several"


def _only_came_of_it(items: Sequence[Item], place: int) -> bool:
    """Whether the rest of a sentence tells no more than that they ate it or did not, and who did not."""
    if place >= len(items) or not items[place].senses.kinds & FEEDING:
        return False
    for item in items[place:]:
        if ends_sentence(item):
            return True
        if item.cat in "SND" or "prey" in item.senses or any(v.group.keeper for v in item.senses.verbs):
            return False
    return True


def _feeds(item: Item) -> bool:
    return any(v.group.kind in FEEDING and not v.group.weak for v in item.senses.verbs)


def _came_of_it(item: Item) -> bool:
    """Whether a word tells that animals ate, or did not: no "gave", "got" or "had"."""
    return "neg" in item.senses or any(
        v.group.kind in FEEDING and not (v.group.keeper or v.group.weak) for v in item.senses.verbs
    )
