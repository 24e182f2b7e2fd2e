"""What is of each animal, and what of all together: "1 cm each, £24 the pair", "(1 roach each)". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: Words behind a price that make it that of all of them.
_IN_ALL: Final = rule_words("in_all")
#: Senses of the words between "each" and its figure: "each for £20", "each about 2 cm".
_LEADS_TO_A_FIGURE: Final = frozenset({"for", "on", "to", "did", "fill"})


def each_in_brackets(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with a comma for the bracket of "Dot yes, Dottie no (1 roach each)": what all of them had."""
    out = list(items)
    for at, item in enumerate(items):
        if item.text != "(" or item.cat != "M":
            continue
        closes = next((n for n in range(at, len(items)) if items[n].text == ")"), len(items))
        each = any("each" in inner.senses for inner in items[at:closes])
        before = items[begins_behind(items, at, ends_sentence) : at]
        several = sum(told.cat == "S" for told in before) > 1 and any(is_mark(told) for told in before)
        if each and several and _ANSWERED.intersection(items[at - 1].senses):
            out[at] = Item("M", item.i, item.j, ",")
    return out


#: Senses of the words that say whether somebody ate.
_ANSWERED: Final = frozenset({"yes", "no", "verb", "elided"})


def of_each(items: Sequence[Item], place: int) -> set[str]:
    """The flags for what each of them has, by the figures beside an "each": "each length", "each money"."""
    before, behind = items[max(0, place - 1) : place], items[place + 1 : place + 3]
    if behind and behind[0].cat != "A" and _LEADS_TO_A_FIGURE.isdisjoint(behind[0].senses):
        behind = []
    return {f"each {item.val.dimension}" for item in (*before, *behind) if item.cat == "A"}


def paid_for_all(items: Sequence[Item], place: int) -> bool:
    """ "£40 the pair", "120 bucks total", "60 euros in all": whether a figure is what all of them cost."""
    said = [item.text for item in items[place + 1 : place + 3]]
    priced = items[place].val.dimension == "money" and bool(said)
    return priced and (said[0] in _IN_ALL or " ".join(said) in _IN_ALL)
