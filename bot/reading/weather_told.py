"""How warm it is outside, told with the weather: "sunny and 22 degrees" is of no room and no home. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, begins_behind, ends_sentence
from bot.reading.names import ShelfNames
from bot.reading.rule_words import rule_words

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
            if _of_the_weather(out[start:end]):
                del out[at]
    return out


def _of_the_weather(sentence: Sequence[Item]) -> bool:
    """Whether a sentence says how the weather is, and names nobody, no place and no room."""
    told = any("weather" in item.senses for item in sentence)
    inside = any(not _INSIDE.isdisjoint(item.senses) or item.text in _HERE for item in sentence)
    return told and not inside and all(item.cat != "S" for item in sentence)


_HERE: Final = rule_words("here")
