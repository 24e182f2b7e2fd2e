"""Which of several animals is the big or the small one, by their spans: "la grande comió". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames


def told_by_size(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with an article and a word for a size as whom they tell of those named before."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        behind = _place_of_those(items, at)
        if behind is not None:
            out.append(_one_of(items[behind].val.tags, items[at : behind + 1], names))
            at = behind + 1
            continue
        meant = _of_that_size(items, at, out, names)
        out.append(meant or items[at])
        at += 2 if meant is not None else 1
    return out


def _place_of_those(items: Sequence[Item], at: int) -> int | None:
    """ "la pequeña de las Bess": where those stand of whom an article and a word for a size tell one."""
    if "the" not in items[at].senses or items[at].cat != "W":
        return None
    behind = next((n for n in range(at + 2, min(at + 5, len(items))) if items[n].cat == "S"), 0)
    if not behind or "trait" not in items[at + 1].senses or "of" not in items[at + 2].senses:
        return None
    several = len(items[behind].val.tags) > 1 and all("the" in i.senses for i in items[at + 3 : behind])
    return behind if several else None


def _one_of(named: tuple[str, ...], said: Sequence[Item], names: ShelfNames) -> Item:
    """Which of some animals an article and a word for a size tell, in all the words ``said`` of it."""
    meant = by_trait(named, [said[1].senses["trait"].group.act or ""], names)
    words = " ".join(item.text for item in said)
    ref = Ref(meant, how="group", words=words, sure=len(meant) == 1, doubt="two_fit")
    return Item("S", said[0].i, said[-1].j, words, val=ref)


def _of_that_size(items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames) -> Item | None:
    """ "T07 y T12: la grande comió": which of those just named an article and a word for its size tell.

    Something has to be told of it, so that "le di la grande" is none; where spans do not tell, it is asked.
    """
    sized = items[at + 1] if at + 2 < len(items) else None
    does = next((i for i in items[at + 2 : at + 4] if not _BETWEEN & i.senses.keys()), None)
    if sized is None or does is None or "the" not in items[at].senses or "trait" not in sized.senses:
        return None
    tells = does.text[:1].isdigit() or not _TELLS.isdisjoint(does.senses)
    if items[at].cat != "W" or sized.cat != "W" or not tells:
        return None
    said = (tag for item in before if item.cat == "S" and item.val.sure for tag in item.val.tags)
    named = names.in_order(said)
    if not 1 < len(named) < len(names.specimens):
        return None
    return _one_of(named, items[at : at + 2], names)


#: Senses of small words between whom and what is told: "la chica además mudó".
_BETWEEN: Final = frozenset({"then", "fill", "so", "but"})
#: Senses of the words with which something is told of the one before them.
_TELLS: Final = frozenset({"verb", "neg", "pron", "did", "yes", "no", "still"})


def by_trait(tags: tuple[str, ...], traits: Sequence[str], names: ShelfNames) -> tuple[str, ...]:
    """Those of some animals that a word for their size tells: the one with the least or the widest span."""
    sized = [(names.by_tag[t].span_cm, t) for t in tags]
    if any(span is None for span, _ in sized):
        return tags
    ordered = sorted((span, t) for span, t in sized if span is not None)
    chosen = ordered[0] if "small" in traits else ordered[-1]
    if len([s for s, _ in ordered if s == chosen[0]]) > 1:
        return tags
    return (chosen[1],)
