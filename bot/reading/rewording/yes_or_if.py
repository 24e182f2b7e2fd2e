"""Words of two meanings: "si" is "yes" and "if" with no accent, "igual" is "the same" and "perhaps". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, ends_sentence, tells_a_deed
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import Senses
from bot.reading.words.normalise import without_accents


def yes_or_if(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with such a word read as "yes" at a clause's end behind an animal, and elsewhere as "if"."""
    out = list(items)
    for at, item in enumerate(items):
        if item.cat != "W" or not {"yes", "cond"} <= item.senses.keys():
            continue
        ends = at + 1 == len(items) or items[at + 1].cat == "M" or "and" in items[at + 1].senses
        behind_her = at > 0 and (items[at - 1].cat in "SX" or "prey" in items[at - 1].senses)
        ends = ends or _after_a_denial(items, at)
        behind_her = behind_her or _after_a_denial(items, at)
        accented = item.text != without_accents(item.text)  # "sí comió"
        left = "cond" if accented or (ends and behind_her) else "yes"
        out[at] = _without(item, left)
    return out


def _after_a_denial(items: Sequence[Item], at: int) -> bool:
    """ "no ha mudado pero si ha comido": what she did instead."""
    turns = 0 < at < len(items) - 1 and "but" in items[at - 1].senses and tells_a_deed(items[at + 1])
    return turns and any(not _DENIES.isdisjoint(item.senses) for item in items[: at - 1])


_DENIES: Final = frozenset({"neg", "undone"})
_TELLS: Final = frozenset({"verb", "neg", "did"})


def same_or_perhaps(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with such a word read as "perhaps" before what may have happened, and else as "the same"."""
    out = list(items)
    for at, item in enumerate(items):
        if item.cat != "W" or not {"same", "hedge"} <= item.senses.keys():
            continue
        opens = at == 0 or ends_sentence(items[at - 1])
        behind = (
            items[at + 2 : at + 3] if opens and items[at + 1 : at + 2] and items[at + 1].cat == "S" else ()
        )
        tells = any(not _TELLS.isdisjoint(item.senses) for item in (*items[at + 1 : at + 2], *behind))
        left = "same" if tells else "hedge"  # "igual comió Ink", "igual Ink ha comido"
        out[at] = _without(item, left)
    return out


def _without(item: Item, left: str) -> Item:
    """A word with all of its senses but one."""
    kept = Senses([sense for cat, sense in item.senses.items() if cat != left])
    return Item("W", item.i, item.j, item.text, senses=kept)
