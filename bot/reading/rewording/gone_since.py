"""Prey that is gone since it was put in: "put a roach in with Ink, it's gone now": she had it. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, end_ahead, ends_sentence, is_mark
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words

GONE: Final = rule_words("gone")
_VANISHED: Final = "vanished"


def gone_since(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a bare "gone" as what came of the meal told before it."""
    out = list(items)
    for at in range(len(out) - 1, -1, -1):
        item = out[at]
        if item.text in GONE and at and _says_no_more(out, at + 1) and _opens(out, at):
            before = out[begins_behind(out, at, ends_sentence) : at]
            if _is_put_in(before):
                out[at] = said_as(item, _VANISHED)
                del out[_ends_at(out, at + 1) : _end_of_guess(out, at + 1)]
    return out


def _opens(items: Sequence[Item], at: int) -> bool:
    """Whether a mark or "and" stands before it, but for "it's" and the like."""
    while at and not {"pron", "did", "fill"}.isdisjoint(items[at - 1].senses) and items[at - 1].cat == "W":
        if "and" in items[at - 1].senses:
            return True
        at -= 1
    return at > 0 and (items[at - 1].cat == "M" or "and" in items[at - 1].senses)


def _says_no_more(items: Sequence[Item], at: int) -> bool:
    """Whether only small words and a day stand behind it, until the next clause."""
    at = _ends_at(items, at)
    return at == len(items) or items[at].cat == "M" or not {"so", "and"}.isdisjoint(items[at].senses)


def _ends_at(items: Sequence[Item], at: int) -> int:
    """The place behind small words and a day."""
    while at < len(items) and (items[at].cat == "D" or items[at].text in _NOW):
        at += 1
    return at


def _end_of_guess(items: Sequence[Item], at: int) -> int:
    """Where "so she must have had it" ends, which says no more; the same place where nothing is guessed."""
    start = _ends_at(items, at)
    said = items[start : start + _SO_SHE_MUST]
    if len(said) < _SO_SHE_MUST or "so" not in said[0].senses or "pron" not in said[1].senses:
        return start
    if said[2].text.split()[0] not in _MUST:
        return start
    return end_ahead(items, start, is_mark)


_SO_SHE_MUST: Final = 3
_MUST: Final = rule_words("must")
_NOW: Final = rule_words("now")


def _is_put_in(before: Sequence[Item]) -> bool:
    """Whether prey was given to one animal, and nothing told of it yet."""
    prey = any("prey" in item.senses for item in before)
    given = any(verb.group.keeper for item in before for verb in item.senses.verbs)
    return prey and given and sum(item.cat == "S" for item in before) == 1
