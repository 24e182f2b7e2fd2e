"""Names told together that share their last word: "Old and Little Bess". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import EXACT, ShelfNames


def names_sharing_a_word(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with an animal for the first word of such a pair, where it and the last word are a name."""
    out = list(items)
    for at in range(len(items) - 2):
        first, joint, second = items[at : at + 3]
        words = second.text.split() if second.cat == "S" else []
        if first.cat not in "WU" or "and" not in joint.senses or len(words) < len(("little", "bess")):
            continue
        hits = [hit for hit in names.phrases.get((first.text, words[-1]), ()) if hit.how in EXACT]
        if len(hits) == 1 and not hits[0].plural:
            ref = Ref(hits[0].tags, words=f"{first.text} {words[-1]}")
            out[at] = Item("S", first.i, first.j, first.text, val=ref)
    return out
