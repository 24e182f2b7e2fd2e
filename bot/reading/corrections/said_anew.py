"""What is said anew behind words that take back: "two small crickets no three small crickets".

What is repeated behind them takes the place of what it is of a sort with: a meal a meal, an amount an
amount, whoever it was whoever was denied (``said_instead.py``, ``said_again.py``). Where it does not line up,
the words stand by themselves and are asked about. Simpler corrections, of one word by another, are in
``corrections.py``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.said_again import past_what_is_known, whom_alone
from bot.reading.corrections.said_instead import either_of_two, instead_of_same
from bot.reading.corrections.words_of_fixing import (
    AROUND,
    SMALL,
    behind_the_cue,
    is_no,
    may_take_back,
    past_it_was,
    takes_back,
)
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import same, sort_of, without_marks
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.marks import HARD
from bot.reading.words.rule_words import rule_words


def said_anew(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with what is said anew in the place of what it takes back."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        end = behind_the_cue(items, at) if out else at
        if end == at:
            out.append(items[at])
            at += 1
            continue
        cue = _surely_takes_back(items, at, end)
        put = (
            _instead_of_denied(out, items, end)
            or instead_of_same(out, items, end, cue)
            or either_of_two(out, items, end, cue)
        )
        if put is not None:
            out, at = put
            continue
        out += _by_itself(out, items, end, cue)
        at = end
        if takes_back(cue):
            at = whom_alone(out, items, end)
    return out


def _surely_takes_back(items: Sequence[Item], at: int, end: int) -> Sequence[Item]:
    """The words that take back; a bare "no" does so for sure before "it was Saffron"."""
    cue = items[at:end]
    who = past_it_was(items, end)
    named = end < who < len(items) and items[who].cat == "S"
    return [said_as(cue[0], _SORRY, items[end - 1].j)] if named and not takes_back(cue) else cue


_SORRY: Final = "sorry"


def _by_itself(out: Sequence[Item], items: Sequence[Item], end: int, cue: Sequence[Item]) -> list[Item]:
    """The words that take back where nothing lines up, as they would stand between marks."""
    first = cue[0]
    denies = takes_back(cue) and any(not _NO.isdisjoint(item.text.split()) or is_no(item) for item in cue)
    marked = out[-1].cat == "M"
    if not denies or marked or end == len(items):
        return list(cue)
    return [Item("M", first.i, first.i, ","), *cue]


_NO: Final = rule_words("no_alone")


# -- what it was not ------------------------------------------------------------------------------


def _instead_of_denied(out: Sequence[Item], items: Sequence[Item], at: int) -> tuple[list[Item], int] | None:
    """ "… no sorry, not Mole, it was Anvil": what is denied was said before, and another is in its place."""
    while at < len(items) and not SMALL.isdisjoint(items[at].senses) and "neg" not in items[at].senses:
        at += 1
    if at >= len(items) or items[at].text not in _NOT:
        return None
    denied, at = _values(items, at + 1)
    said, at = _values(items, _past_what_was_done(out, items, at))
    if not denied or not said:
        return None
    if any(same(wrong, item) for wrong in denied for item in said):
        return None  # "sorry not May, May refused"
    new = list(out)
    for item in said:
        wrong = next((i for i in denied if sort_of(i) == sort_of(item)), None)
        place = _place_of(new, wrong) if wrong is not None else None
        if place is None:
            return None
        new[place] = item
    return without_marks(new), past_what_is_known(new, items, at)


_NOT: Final = rule_words("not_the_one")


def _place_of(out: Sequence[Item], wrong: Item) -> int | None:
    return next((n for n in range(len(out) - 1, -1, -1) if same(out[n], wrong)), None)


def _past_what_was_done(out: Sequence[Item], items: Sequence[Item], at: int) -> int:
    """Past "it was", "I sold", which lead to what was meant."""
    while at < len(items):
        item = items[at]
        leads = item.text in AROUND or item.text in HARD or may_take_back(item)
        leads = leads or not (SMALL | {"but", "except"}).isdisjoint(item.senses)
        again = any(same(item, i) for i in out) and bool(item.senses.verbs)
        if item.cat in "SNAD" or not (leads or again):
            return at
        at += 1
    return at


def _values(items: Sequence[Item], at: int) -> tuple[list[Item], int]:
    """The values that stand there, "two small crickets", and the place behind them."""
    found: list[Item] = []
    while at < len(items):
        item = items[at]
        if sort_of(item):
            if any(sort_of(i) == sort_of(item) for i in found):
                break
            found.append(item)
        elif found or _BEFORE_A_VALUE.isdisjoint(item.senses):
            break
        at += 1
    return found, at


_BEFORE_A_VALUE: Final = frozenset({"a", "the", "on", "with", "for", "except"})
