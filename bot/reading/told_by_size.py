"""Which of several animals is the big or the small one, by their spans: "la grande comió". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.names import ShelfNames


def told_by_size(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with an article and a word for a size as whom they tell of those named before."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        meant = _of_that_size(items, at, out, names)
        out.append(meant or items[at])
        at += 2 if meant is not None else 1
    return out


def _of_that_size(items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames) -> Item | None:
    """ "T07 y T12: la grande comió": which of those just named an article and a word for its size tell.

    Something has to be told of it, so that "le di la grande" is none; where spans do not tell, it is asked.
    """
    sized = items[at + 1] if at + 2 < len(items) else None
    if sized is None or "the" not in items[at].senses or "trait" not in sized.senses:
        return None
    tells = items[at + 2].text[:1].isdigit() or not _TELLS.isdisjoint(items[at + 2].senses)
    if items[at].cat != "W" or sized.cat != "W" or not tells:
        return None
    said = (tag for item in before if item.cat == "S" and item.val.sure for tag in item.val.tags)
    named = names.in_order(said)
    if not 1 < len(named) < len(names.specimens):
        return None
    meant = by_trait(named, [sized.senses["trait"].group.act or ""], names)
    words = f"{items[at].text} {sized.text}"
    ref = Ref(meant, how="group", words=words, sure=len(meant) == 1, doubt="two_fit")
    return Item("S", items[at].i, sized.j, words, val=ref)


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
