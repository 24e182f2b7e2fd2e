"""Words not understood that stand where only an animal's name can, beside animals that are known.

Passed over, they would be lost, or what is told of them would be told of the others: "Zork, two crickets.
Sunny, one cricket". Where no animal is named at all, the clause itself finds whom it lacks.
"""

from __future__ import annotations

from typing import Final

from bot.reading.days.words import short_weekdays
from bot.reading.items.item import Item, as_stranger
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import NUMBER
from bot.reading.whom.strangers_listed import LISTED
from bot.reading.whom.strangers_placed import ANYWHERE, PLACED
from bot.reading.words.rule_words import rule_words


def strangers_named(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with names that nobody bears where such words stand."""
    others = any(item.cat == "S" or not _OTHERS.isdisjoint(item.senses) for item in items)
    where = (*ANYWHERE, *PLACED, *LISTED) if others else ANYWHERE
    out = list(items)
    for at, item in enumerate(items):
        if item.cat == "U" and _is_a_word(item) and any(stands(out, at) for stands in where):
            out[at] = as_stranger(item)
    return out


def _is_a_word(item: Item) -> bool:
    letters = len(item.text) > 1 and item.text.replace("'", "").isalpha()
    return letters and item.text not in _NO_NAMES and item.text not in short_weekdays()


#: Words that stand where a name might, and are none: of a skin, a number, an "only".
_NO_NAMES: Final = NUMBER | rule_words("a_skin") | rule_words("only")
#: Senses of the words that may stand for others who are not named.
_OTHERS: Final = frozenset({"everyone", "all", "both", "group", "rest"})
