"""How warm it is outside, told with the weather: "sunny and 22 degrees" is of no room and no home. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

WEATHER: Final = frozenset({"weather"})
_INSIDE: Final = frozenset({"room", "humid", "temp"})
_WARM: Final = frozenset({"temperature"})


def weather_told(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without the warmth of a sentence that tells of the weather alone."""
    out = list(items)
    for at in range(len(out) - 1, -1, -1):
        if out[at].cat == "A" and out[at].val.dimension in _WARM:
            start = begins_behind(out, at, ends_sentence)
            end = next((n for n in range(at, len(out)) if ends_sentence(out[n])), len(out))
            if _beside_the_weather(out, at) and not _inside(out[start:end]):
                del out[at]
    return out


def _beside_the_weather(items: Sequence[Item], at: int) -> bool:
    """ "sunny and 22 degrees", "22 degrees and sunny": the one joined to the other."""
    before, behind = at - 1, at + 1
    while before > 0 and _joins(items[before]):
        before -= 1
    while behind < len(items) - 1 and _joins(items[behind]):
        behind += 1
    beside = (before, behind) if before >= 0 else (behind,)
    return any("weather" in items[n].senses and not _counted(items, n) for n in beside if n < len(items))


def _joins(item: Item) -> bool:
    return item.text == "," or "and" in item.senses


def _counted(items: Sequence[Item], at: int) -> bool:
    """ "24 C, sunny 1": a name with what she had."""
    return at + 1 < len(items) and items[at + 1].cat == "N"


def _inside(sentence: Sequence[Item]) -> bool:
    """Whether somebody, a place or a room is named."""
    inside = any(not _INSIDE.isdisjoint(item.senses) or item.text in _HERE for item in sentence)
    return inside or any(item.cat == "S" for item in sentence)


_HERE: Final = rule_words("here")
