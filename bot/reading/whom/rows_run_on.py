"""Numbers of a row of names with no mark between: "GBB 1+3 gefressen 2 und 4 nicht"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, joins
from bot.reading.names.shelf_names import ShelfNames

#: So many numbers in a list name animals where one number may count them.
_A_LIST: Final = 2


def behind_an_auxiliary(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with "die GBB: gestern haben 1 und 3 gefressen" in the order of "gestern GBB 1 und 3".

    One number alone ("von den GBB haben 2 gefressen") says how many they are as well, and stays there.
    """
    for at in range(len(items) - 1):
        row = _row_of_group(items[at], names)
        start = behind_small_words(items, at + 1)
        if not row or not any("did" in i.senses for i in items[at + 1 : start]):
            continue
        end, numbers = number_list(items, start)
        behind = items[end] if end < len(items) else None
        told = behind is not None and ("each" in behind.senses or bool(behind.senses.verbs))
        if told and len(numbers) >= _A_LIST and set(numbers) <= row.keys():
            lead = at - 1 if at and not _LEADS.isdisjoint(items[at - 1].senses) else at
            days = [i for i in items[at + 1 : start] if i.cat == "D"]
            return [*items[:lead], *days, items[at], *items[start:]]
    return items


def behind_small_words(items: Sequence[Item], at: int) -> int:
    """The place behind a colon, days and the small words of a sentence that begins with whom it is about."""
    while at < len(items) and (items[at].text == ":" or items[at].cat == "D" or _is_small(items[at])):
        at += 1
    return at


def _is_small(item: Item) -> bool:
    return item.cat == "W" and not item.senses.verbs and not _SMALL.isdisjoint(item.senses)


_SMALL: Final = frozenset({"did", "fill", "pron", "the"})
#: Senses of the words before a row of which some are told: "bei den GBB", "von den GBB".
_LEADS: Final = frozenset({"with", "of", "on"})


def _row_of_group(item: Item, names: ShelfNames) -> dict[str, str]:
    base = item.val.base if item.cat == "S" and len(item.val.tags) > 1 else None
    return names.numbered.get(base, {}) if base is not None else {}


def number_list(items: Sequence[Item], at: int) -> tuple[int, list[str]]:
    """The numbers of a list that begins at a place, and the place behind them."""
    numbers: list[str] = []
    end = place = at
    while place < len(items) and items[place].cat == "N" and items[place].text.isdecimal():
        numbers.append(items[place].text)
        end = place + 1
        joint = items[end] if end < len(items) else None
        if joint is None or not joins(joint):
            break
        place = end + 1
    return end, numbers


def denied_behind_a_verb(items: Sequence[Item], place: int, before: Sequence[Item]) -> bool:
    """ "GBB 1+3 gefressen 2 und 4 nicht": right behind what some of a row did, numbers of whom did not.

    One number alone may be what is counted where prey was named before: "GBB 1 2 Heimchen gefressen 2 nicht".
    """
    end, numbers = number_list(items, place)
    denial = items[end] if end < len(items) else None
    ends = end + 1 >= len(items) or items[end + 1].cat == "M"
    acted = bool(before) and any(not (v.group.noun or v.group.base) for v in before[-1].senses.verbs)
    if denial is None or not (acted and ends and numbers) or "elided" not in denial.senses:
        return False
    start = max((n for n, item in enumerate(before) if item.cat == "S"), default=len(before))
    told_of = start < len(before) and all(_plain(item) for item in before[start + 1 : -1])
    return told_of or len(numbers) >= _A_LIST


def _plain(item: Item) -> bool:
    """Whether nothing stands there that a number could count."""
    return item.cat in "MW" and {"prey", "size", "noun"}.isdisjoint(item.senses)
