"""Water told by its amount alone, beside what was eaten: "Mole got 2 crickets and 30 ml". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence, is_mark
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.terms import Kind

#: More than this, in liters, is a container's size rather than a drink.
_A_DRINK_AT_MOST: Final = Decimal("0.25")
#: Kinds after which a volume may be that of a home.
_OF_HOMES: Final = frozenset({Kind.REHOUSED, Kind.ACQUIRED})


def water_beside_meals(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with "water" behind each small volume that follows a meal, and a comma before it.

    A day behind it is that of the meal as well, and is put behind that: "2 crickets and 30 ml yesterday".
    """
    if any(map(_of_a_home, items)):
        return list(items)
    out: list[Item] = []
    at = 0
    while at < len(items):
        drunk = _drunk(items, at)
        if not drunk:
            out.append(items[at])
            at += 1
            continue
        at += len(drunk)
        if at < len(items) and items[at].cat == "D":
            out.insert(_behind_the_meal(out), items[at])
            at += 1
        if "prey" in out[-1].senses:
            out.append(Item("M", drunk[0].i, drunk[0].j, ","))  # "Mole 2 crickets 30 ml"
        out += drunk if _is_water(drunk[-1]) else [*drunk, said_as(drunk[0], "water")]
    return out


def _behind_the_meal(said: Sequence[Item]) -> int:
    """Where a day of the meal said last belongs: before the comma or the "and" behind it."""
    return len(said) - (said[-1].text == "," or "and" in said[-1].senses)


def _drunk(items: Sequence[Item], at: int) -> list[Item]:
    """A drink with no verb of its own, such as "30 ml"; empty where it follows no meal or goes on."""
    about = "fill" in items[at].senses and at + 1 < len(items)  # "about 30 ml"
    end = _end_of_drink(items, at + about)
    if not end or not at or not _parted(items, at) or not _ends_clause(items, end):
        return []
    before = items[begins_behind(items, at, ends_sentence) : at]
    return list(items[at:end]) if any(map(_of_a_meal, before)) else []


def _parted(items: Sequence[Item], at: int) -> bool:
    """Whether what stands before a drink leaves it one: "20 and 30 ml" are two of them for two animals.

    "Ink ate, water yesterday" may tell of two days, and is left as it is.
    """
    last = items[at - 1]
    figure = at > 1 and items[at - 2].cat == "N" and not (at > 2 and "prey" in items[at - 3].senses)
    if last.text == ",":
        return not (figure or _is_water(items[at]))
    return "prey" in last.senses or ("and" in last.senses and not figure)


def _end_of_drink(items: Sequence[Item], at: int) -> int:
    """The end of "30 ml", "30 ml water", "30 ml of water", "water" that begin there; 0 for none."""
    if _is_water(items[at]):
        return at + 1
    item = items[at]
    if item.cat != "A" or item.val.dimension != "volume" or item.val.value > _A_DRINK_AT_MOST:
        return 0
    water = at + 1 + any("of" in joint.senses for joint in items[at + 1 : at + 2])
    return water + 1 if any(map(_is_water, items[water : water + 1])) else at + 1


def _is_water(item: Item) -> bool:
    return item.senses.part == "water"


def _ends_clause(items: Sequence[Item], at: int) -> bool:
    if at >= len(items) or is_mark(items[at]) or items[at].cat == "D":
        return True
    return not {"and", "each"}.isdisjoint(items[at].senses)


def _of_a_meal(item: Item) -> bool:
    return "prey" in item.senses or bool(item.senses.kinds & FEEDING)


def _of_a_home(item: Item) -> bool:
    kinds = item.senses.kinds
    return item.senses.part == "box" or (bool(kinds & _OF_HOMES) and Kind.FED not in kinds)
