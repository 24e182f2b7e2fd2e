"""Animals that come for one that goes: "traded Gus to Amy for two A. avics".

What stands behind "for" after an animal was given away is no animal of the shelf, though one of its
species may live there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final, NamedTuple

from bot.reading.amounts.amounts import AmountSpan
from bot.reading.items.item import Item, end_ahead, ends_sentence
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What may stand between "for" and the species: "for two small A. avic slings".
_BETWEEN: Final = frozenset({"size", "trait", "group"})


class CameFor(NamedTuple):
    """What came in return: its species, where it was said which, and how many."""

    species: str | None
    number: int | None


def exchanged(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with what came in return for an animal as one "E" item each."""
    out: list[Item] = []
    at = 0
    gone = False
    while at < len(items):
        item = items[at]
        gone = (gone and not ends_sentence(item)) or _gives_away(item)
        found = _came(items, at) if "for" in item.senses and (gone or _goes_behind(items, at)) else None
        if found is None:
            out.append(item)
            at += 1
            continue
        came, end = found
        words = " ".join(i.text for i in items[at:end])
        out.append(Item("E", item.i, items[end - 1].j, words, val=came))
        at = end
    return out


def to_whom_behind_a_mark(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """ "sold B3 – to Niamh": whom she went to is told in the same breath, and the mark goes."""
    gone = False
    out: list[Item] = []
    for at, item in enumerate(items):
        behind = items[at + 1 : at + 3]
        leads = len(behind) > 1 and "to" in behind[0].senses and behind[1].cat == "U"
        leads = leads and bool(out) and out[-1].cat == "S"
        if not (item.cat == "M" and not ends_sentence(item) and gone and leads):
            out.append(item)
        gone = (gone and not ends_sentence(item) and "to" not in item.senses) or _gives_away(item)
    return out


def _goes_behind(items: Sequence[Item], at: int) -> bool:
    """ "Ink gegen eine Nhandu chromatus eingetauscht": given away by a verb at the end of the sentence."""
    if not any(i.cat == "S" and i.val.how in EXACT for i in items[:at]):
        return False
    end = end_ahead(items, at, ends_sentence)
    return any(map(_gives_away, items[at:end]))


def _gives_away(item: Item) -> bool:
    return Kind.LEFT in item.senses.kinds


def _came(items: Sequence[Item], at: int) -> tuple[CameFor, int] | None:
    """What is named behind "for", and the place after it; ``None`` where no species is named there."""
    count: int | None = None
    for place in range(at + 1, len(items)):
        item = items[place]
        if item.cat == "T" or (item.cat == "S" and item.val.called_by_species):
            species = item.val if item.cat == "T" else item.val.species
            end = place + 1
            while end < len(items) and items[end].cat == "W" and "group" in items[end].senses:
                end += 1
            return CameFor(species, count), end
        if item.cat == "N" and count is None and item.val.value is not None:
            count = int(item.val.value)
        elif "a" in item.senses and count is None:
            count = 1
        elif _BETWEEN.isdisjoint(item.senses):
            return None
    return None


def priced(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with bare numbers behind "for" as money: "25 euro and … for 40", "sold Ink for 20".

    Where no price with a currency was said before, what money it is has to be asked.
    """
    said = any(i.cat == "A" and i.val.dimension == "money" for i in items)
    money = None if said else _MONEY_UNSAID if any(map(_is_bargain, items)) else None
    if not said and money is None:
        return items
    out: list[Item] = []
    for place, item in enumerate(items):
        if item.cat == "A" and item.val.dimension == "money":
            money = item.val
        price = _bare_price(items, place) if money is not None else None
        if money is not None and price is not None:
            doubt = money.doubt if money is _MONEY_UNSAID else None
            span = replace(money, value=price, high=None, doubt=doubt)
            out.append(Item("A", item.i, item.j, item.text, val=span))
        else:
            out.append(item)
    return out


#: A price without a currency.
_MONEY_UNSAID: Final = AmountSpan(0, 0, "money", Decimal(0), doubt="what_money")
_BARGAINS: Final = frozenset({Kind.LEFT, Kind.ACQUIRED})


def _is_bargain(item: Item) -> bool:
    """Whether a word tells that something was sold or bought."""
    for sense in item.senses.values():
        group = sense.group
        if group.kind in _BARGAINS and (not group.weak or group.act == "buy"):
            return True
    return False


def _bare_price(items: Sequence[Item], place: int) -> Decimal | None:
    """A plain number behind "for" that ends what is said of the animal: "for 40", "for 4.50"."""
    item, prev = items[place], items[place - 1] if place else None
    following = items[place + 1] if place + 1 < len(items) else None
    ends = following is None or following.cat == "M" or "and" in following.senses
    if prev is None or "for" not in prev.senses or not ends or "both" in item.senses:
        return None  # "€70 for both"
    if item.cat == "U" and _SUM.fullmatch(item.text):
        return Decimal(item.text.replace(",", "."))
    plain = item.cat == "N" and item.val.value is not None and not item.val.doubt
    return Decimal(item.val.value) if plain else None


#: A sum with its cents.
_SUM: Final = re.compile(r"\d{1,5}[.,]\d{2}")


def taken_off_hands(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "Marta took Ink and Mole off my hands" as "Marta bought Ink and Mole"."""
    for at in range(len(items) - 2):
        off, my, hands = items[at : at + 3]
        if "away" not in off.senses or my.text not in _MY or hands.text not in HANDS:
            continue
        took = next((n for n in range(at - 1, -1, -1) if "take" in items[n].senses.acts), None)
        if took is not None:
            return [*items[:took], said_as(items[took], "bought"), *items[took + 1 : at], *items[at + 3 :]]
    return items


_MY: Final = rule_words("my")
HANDS: Final = rule_words("hands")
