"""Who walked off: the keeper in "put a roach by Ink and walked off", she in "Ink saw it and walked off"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: Words of which a message has one where somebody walks off.
WALKED: Final = rule_words("walked_off")


def keeper_walked_off(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without an "and walked off" behind what the keeper did, which tells of no meal's end."""
    out: list[Item] = []
    for item in items:
        if item.text in WALKED and out and "and" in out[-1].senses and _keeper_did(out[:-1]):
            out.pop()
            continue
        out.append(item)
    return out


def _keeper_did(before: Sequence[Item]) -> bool:
    """Whether a clause begins with the keeper, or with a verb of the keeper's."""
    said = before[begins_behind(before, len(before), is_mark) :]
    if not said:
        return False
    return "self" in said[0].senses or any(verb.group.keeper for verb in said[0].senses.verbs)
