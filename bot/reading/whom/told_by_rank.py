"""Which of those just named an animal is, by its place among them: "la primera ayer, la segunda hoy"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, begins_behind, ends_sentence
from bot.reading.names.shelf_names import ShelfNames


def told_by_rank(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with an article and a word for a place in an order as the one that was named there.

    Of feeders named before, or where fewer were named, nothing is told for sure, so that it is asked.
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        rank = _rank(items, at)
        named = _named_one_by_one(out) if rank else []
        if not named:
            out.append(items[at])
            at += 1
            continue
        words = f"{items[at].text} {items[at + 1].text}"
        out.append(Item("S", items[at].i, items[at + 1].j, words, val=_ref(out, named, rank, words)))
        at += 2
    return out


def _rank(items: Sequence[Item], at: int) -> int:
    """The place in an order that an article and a word tell there, 0 where they tell none."""
    word = items[at + 1] if at + 1 < len(items) else None
    sense = word.senses.get("rank") if word is not None and items[at].cat == "W" else None
    if sense is None or "the" not in items[at].senses:
        return 0
    behind = items[at + 2] if at + 2 < len(items) else None
    thing = behind is not None and (behind.cat in "SU" or any(v.group.noun for v in behind.senses.verbs))
    counts = behind is not None and not _THINGS.isdisjoint(behind.senses)
    return 0 if behind is None or thing or counts else sense.group.count or 0


_THINGS: Final = frozenset({"prey", "noun", "dur", "of", "occasion", "market"})


def _named_one_by_one(before: Sequence[Item]) -> list[Ref]:
    """The animals named in the sentence before, each by itself; none where fewer than two were."""
    start = begins_behind(before, len(before), _parts)
    named = [i.val for i in before[start:] if i.cat == "S" and not i.val.words.startswith(_OWN)]
    return named if len(named) > 1 and all(len(ref.tags) == 1 and ref.sure for ref in named) else []


def _parts(item: Item) -> bool:
    return ends_sentence(item) and item.text != ":"


#: What marks a reference made here, so that it is none of those named.
_OWN: Final = "\N{ZERO WIDTH SPACE}"


def _ref(before: Sequence[Item], named: Sequence[Ref], rank: int, words: str) -> Ref:
    fed = any("prey" in item.senses for item in before)
    place = len(named) if rank < 0 else rank
    if fed or place > len(named):
        tags = tuple(dict.fromkeys(tag for ref in named for tag in ref.tags))
        return Ref(tags, sure=False, words=_OWN + words, doubt="two_fit")
    return Ref(named[place - 1].tags, how="aka", words=_OWN + words)
