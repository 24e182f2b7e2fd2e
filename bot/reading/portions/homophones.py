"""Number words that sound like other words: "eight pinheads" and "ate pinheads", "ate for mealworms"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words

#: Small words that are heard, or written, for a number.
_SOUND_LIKE_NUMBERS: Final = rule_words("sounds_like_a_number")


def counts_prey(items: Sequence[Item], place: int) -> bool:
    """Whether a word that may be "ate" stands right before several of a prey, and counts them."""
    return place + 1 < len(items) and _several(items[place + 1])


def unheard_number(items: Sequence[Item], place: int) -> bool:
    """ "ate for mealworms", "fed Ink to crickets": whether what stands before prey may have been a number."""
    if place < len(("ate", "for")) or not _several(items[place]):
        return False
    whom = place > len(("ate", "for")) and (items[place - 2].cat == "S" or "pron" in items[place - 2].senses)
    verb = items[place - 3 if whom else place - 2].senses.get("verb")
    return items[place - 1].text in _SOUND_LIKE_NUMBERS and verb is not None and verb.group.kind in FEEDING


def _several(item: Item) -> bool:
    prey = item.senses.get("prey")
    return prey is not None and prey.group.plural
