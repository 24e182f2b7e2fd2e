"""Headings that name by a noun what was done to those below: "Molts overnight: B1", "Clean-outs done: A2".

What animals do themselves, such a heading tells; the keeper's own work only where it is said to be done or
of a day that is past, since "Clean-outs: A2, A5" may be what is still to do.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.marks import TITLE_MARKS
from bot.reading.words.rule_words import rule_words


def tallied(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with such headings as verbs: "Molted overnight: B1, B3"."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        opens = at == 0 or ends_sentence(items[at - 1])
        tally = items[at].senses.get("tally") if opens else None
        colon = _colon_of(items, at + 1) if tally is not None else None
        if tally is None or colon is None or not tally.group.act:
            out.append(items[at])
            at += 1
            continue
        head = said_as(items[at], tally.group.act)
        between = items[at + 1 : colon]
        hers = not any(verb.group.keeper for verb in head.senses.verbs)
        done = any("yes" in item.senses for item in between) or any(map(_is_past, between))
        if not (hers or done):
            out.append(items[at])
            at += 1
            continue
        out += [head, *(item for item in between if item.cat == "D")]
        at = colon
    return out


def came_in(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "In: 5 P. metallica slings", "In: 500 crickets": what came; few feeders may be what she got."""
    out = list(items)
    for at in range(len(items) - 3):
        opens = at == 0 or ends_sentence(items[at - 1])
        if not (opens and items[at].text in IN and items[at + 1].text == ":" and items[at + 2].cat == "N"):
            continue
        of_prey = any("prey" in item.senses for item in items[at + 3 : at + 5])
        few = items[at + 2].val.value is None or items[at + 2].val.value < _IN_BULK
        if not (of_prey and few):
            out[at] = said_as(items[at], "received")
    return out


IN: Final = rule_words("in")


#: So many feeders at once are bought, and not fed.
_IN_BULK: Final = 20


def _colon_of(items: Sequence[Item], at: int) -> int | None:
    """Where the mark is behind which the animals are, with only that it is done, and when, before it."""
    while at < len(items) and (items[at].cat == "D" or "yes" in items[at].senses):
        at += 1
    named = at + 1 < len(items) and items[at + 1].cat == "S"
    return at if named and items[at].text in TITLE_MARKS else None


def _is_past(item: Item) -> bool:
    return item.cat == "D" and item.text.split()[0] in _PAST


_PAST: Final = rule_words("past_days")
