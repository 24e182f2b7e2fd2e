"""Eggs and young of a sac: "took the sac off, about 120 eggs", "it hatched, I've got 300 babies". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.items.item import Item, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import ABOUT
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind, SacEvent


def young_counted(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with what came of a sac as a number and no more, whoever "got" it and however roughly.

    Nobody counts them all, and so many it was; who has got 300 babies of a sac has bought none. "A million
    babies" is no number, and goes.
    """
    sac = next((at for at, item in enumerate(items) if Kind.SAC in item.senses.kinds), len(items))
    if sac == len(items):
        return list(items)
    hatched = any(verb.group.event is SacEvent.HATCHED for item in items[sac:] for verb in item.senses.verbs)

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        if at <= sac or not _leads_to_them(items[at]):
            return None
        number = next((n for n in range(at, len(items)) if not _leads_to_them(items[n])), len(items))
        young = number + 1
        if young >= len(items) or not _came_of_a_sac(items[young]):
            return None
        if any(map(_got, items[at:number])) and (not hatched or _from_somebody(items, young)):
            return None
        if items[number].text in _NO_NUMBER:
            return young + 1, []
        counted = items[number].cat == "N" and items[number].val.value is not None
        return (young, [_exactly(items[number])]) if counted else None

    return replaced(items, stretch)


def _leads_to_them(item: Item) -> bool:
    """A word before so many of them: "about", "like a", "now I've got"."""
    small = item.cat == "W" and not _SMALL.isdisjoint(item.senses)
    return item.text in ABOUT or small or _got(item)


def _got(item: Item) -> bool:
    return any(verb.group.act in _GOT for verb in item.senses.verbs)


def _from_somebody(items: Sequence[Item], young: int) -> bool:
    """ "… got 3 slings from Dave": another one's."""
    return any("from" in item.senses for item in items[young + 1 : young + 2])


def _came_of_a_sac(item: Item) -> bool:
    noun, group = item.senses.get("noun"), item.senses.get("group")
    eggs = noun is not None and noun.group.part == "eggs"
    return eggs or (group is not None and group.group.stage == "sling" and group.group.plural)


def _exactly(number: Item) -> Item:
    return Item("N", number.i, number.j, number.text, val=replace(number.val, approx=False))


_GOT: Final = frozenset({"buy", "have"})
_SMALL: Final = frozenset({"self", "fill", "a", "some", "did", "pron"})
#: Words for more than anybody counts: "a million babies".
_NO_NUMBER: Final = rule_words("beyond_number")
#: What a message has where any of it is told.
YOUNG: Final = frozenset({"noun", "group"})
