"""What was meant, said behind what was said: "2 mealworms, supers I mean". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.items.of_one_sort import sort_of
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: Words that say, at the end, that what stands before them was meant.
_ACTUALLY: Final = rule_words("actually")
_LEADS: Final = frozenset({"for", "to"})
MEANT: Final = rule_words("means_them") | _ACTUALLY


def meant_behind(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with what was meant in the place of what was said for it."""
    out: list[Item] = []
    for at, item in enumerate(items):
        ends = at + 1 == len(items) or items[at + 1].cat == "M"
        led = len(out) > 2 and out[-3].cat == "M" and not _LEADS.isdisjoint(out[-2].senses)
        said = [*out[:-2], out[-1]] if led else out  # "for Twig, for Lantern I mean"
        place = _said_for(said, item.text) if item.text in MEANT and ends else None
        if place is None:
            out.append(item)
            continue
        out[place] = out[-1]
        del out[-3 if led else -2 :]
    return out


def _said_for(before: Sequence[Item], means: str) -> int | None:
    """Where what is put right stands: behind a comma is what was meant, before it one of the same sort.

    An "actually" puts right a day alone: "fed Ink. Mole actually, refused" tells of both.
    """
    if len(before) < len(("mealworms", ",", "supers")) or before[-2].cat != "M":
        return None
    if means in _ACTUALLY and before[-1].cat != "D":
        return None
    if before[-1].cat == before[-3].cat == "S":
        return len(before) - 3  # "fed Dot. Dottie I mean"
    start = begins_behind(before, len(before) - 2, ends_sentence)
    named = [n for n in range(start, len(before) - 2) if before[n].cat == "S"]
    if not named and all(item.cat in "UM" for item in before[start:-1]):  # "for Twig.. argh, Lantern I mean"
        named = [n for n in range(start) if before[n].cat == "S"]
    if before[-1].cat == "S" and len(named) == 1:
        return named[0]  # "B1 moulted – B2 I mean"
    days = [n for n in range(start, len(before) - 2) if before[n].cat == "D"]
    if before[-1].cat == "D" and len(days) == 1 and days[0] == len(before) - 3:
        return days[0]  # "molted Monday. Tuesday actually"
    if before[-2].text != ",":
        return None
    sort = sort_of(before[-1])
    start = begins_behind(before, len(before), ends_sentence)
    same = [n for n in range(start, len(before) - 2) if sort_of(before[n]) == sort]
    return same[-1] if sort not in {"", "S"} and same else None
