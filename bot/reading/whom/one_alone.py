"""An article or "almost all" alone, which is some of those named before: "…, una no quiso"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_words

#: The senses of the words for one, or for a part, that may stand alone.
BEGINS: Final = frozenset({"a", "portion", "N"})


def one_alone(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with such a word as animals of whom it is asked which they are."""
    out: list[Item] = []
    for at, item in enumerate(items):
        told = names.in_order({t for i in items[:at] if i.cat == "S" for t in i.val.tags})
        if len(told) > 1 and (_stands_alone(items, at) or _so_many_of(items, at, len(told))):
            if items[at + 1 : at + 2] and items[at + 1].cat == "D":  # "una ayer y otra hoy"
                _in_doubt(out)
            ref = Ref(told, sure=False, how="group", words=item.text, doubt="some_of_several", group=True)
            out.append(Item("S", item.i, item.j, item.text, val=ref))
        else:
            out.append(item)
    return out


def _in_doubt(named: Sequence[Item]) -> None:
    for item in named:
        if item.cat == "S":
            item.val.sure, item.val.doubt = False, "some_of_several"


def _so_many_of(items: Sequence[Item], at: int, all_of_them: int) -> bool:
    """ "comieron dos", of five that were named: two of them, or two each?"""
    item = items[at]
    number = item.val.value if item.cat == "N" else None
    return number is not None and 1 < number < all_of_them and _behind_its_verb(items, at)


def _stands_alone(items: Sequence[Item], at: int) -> bool:
    item = items[at]
    if item.cat != "W" or BEGINS.isdisjoint(item.senses) or item.text in _NEVER_ALONE:
        return False
    behind = items[at + 1] if at + 1 < len(items) else None
    if _parts(items[at - 1]):
        return behind is not None and (_tells(behind) or _of_both(items, at + 1))
    return _behind_its_verb(items, at)


def _behind_its_verb(items: Sequence[Item], at: int) -> bool:
    """ "comió una": nothing follows, and nobody is named before the verb."""
    behind = items[at + 1] if at + 1 < len(items) else None
    closes = behind is None or _parts(behind) or _of_both(items, at + 1)
    whose = at > 1 and (items[at - 2].cat in "SX" or "pron" in items[at - 2].senses)
    return _acts(items[at - 1]) and closes and not whose


def _parts(item: Item) -> bool:
    return item.cat == "M" or not {"and", "but"}.isdisjoint(item.senses)


def _acts(item: Item) -> bool:
    """Whether it is a verb of what animals do, and no noun: no "un rociado"."""
    groups = [verb.group for verb in item.senses.verbs]
    return bool(groups) and not any(group.noun or group.keeper for group in groups)


def _tells(item: Item) -> bool:
    return item.cat == "D" or _acts(item) or not {"neg", "did"}.isdisjoint(item.senses)


def _of_both(items: Sequence[Item], at: int) -> bool:
    """ "una de las dos", "una de ellas"."""
    ahead = items[at : at + 2]
    if len(ahead) < len(("of", "both")) or "of" not in ahead[0].senses:
        return False
    return not {"both", "pron"}.isdisjoint(ahead[1].senses)


_NEVER_ALONE: Final = rule_words("a_or_an")
