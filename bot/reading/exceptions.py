"""Exceptions: "everyone on C but Mole", "all the GBBs except 3"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item, Ref
from bot.reading.marks import HARD, LIST_MARKS
from bot.reading.names import ShelfNames


def excepted(items: list[Item], names: ShelfNames) -> list[Item]:
    """ "X" items for the animals that an exception takes out of the group before it."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.cat == "W" and _excepts(items, at, out):
            first = at + 2 if at + 1 < len(items) and "the" in items[at + 1].senses else at + 1
            refs, end = _list_of(items, first, whole=not _verb_since(out))
            if refs:
                out.append(
                    Item("X", item.i, items[end - 1].j, " ".join(x.text for x in items[at:end]), val=refs)
                )
                at = end
                continue
            number = items[first] if first < len(items) else None
            if "except" in item.senses and number is not None and number.cat in {"N", "U"}:
                ref = Ref((), sure=False, words=number.text, doubt="unknown_name")
                out.append(Item("X", item.i, number.j, number.text, val=[ref]))
                at = first + 1
                continue
        out.append(item)
        at += 1
    return out


def _excepts(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    item = items[at]
    nxt = items[at + 1] if at + 1 < len(items) else None
    if "except" in item.senses and "verb" not in item.senses:
        return True
    if nxt is None or nxt.cat != "S":
        return False
    group = _group_before(before)
    if "but" in item.senses and group is not None:
        _, end = _list_of(items, at + 1)
        acts = end < len(items) and _tells(items[end])
        return not (acts and _verb_since(before))
    return "neg" in item.senses and item.text == "not" and bool(before) and any(x.cat == "S" for x in before)


def _tells(item: Item) -> bool:
    return "verb" in item.senses or any(c in item.senses for c in ("neg", "did", "no", "yes"))


def _group_before(before: Sequence[Item]) -> Ref | None:
    for item in reversed(before):
        if item.cat == "M" and item.text in HARD:
            return None
        if item.cat == "S":
            ref: Ref = item.val
            return ref if len(ref.tags) > 1 and (ref.plural or ref.group) else None
    return None


def _verb_since(before: Sequence[Item]) -> bool:
    """Whether the group before has its verb already: "everyone on C ate but Mole refused"."""
    for item in reversed(before):
        if item.cat == "M" and item.text in HARD:
            return False
        if "verb" in item.senses:
            return True
    return False


def _list_of(items: Sequence[Item], at: int, *, whole: bool = False) -> tuple[list[Ref], int]:
    """The names of a list, and the place after it. ``whole``: its last name belongs to no verb behind it."""
    refs: list[Ref] = []
    place = at
    while place < len(items) and items[place].cat == "S":
        refs.append(items[place].val)
        place += 1
        if (
            place + 1 < len(items)
            and items[place + 1].cat == "S"
            and _joins(items[place])
            and (whole or not _acts_after(items, place + 1))
        ):
            place += 1
    return refs, place


def _joins(item: Item) -> bool:
    return item.text in LIST_MARKS or "and" in item.senses


def _acts_after(items: Sequence[Item], place: int) -> bool:
    return place + 1 < len(items) and _tells(items[place + 1]) and "except" not in items[place + 1].senses
