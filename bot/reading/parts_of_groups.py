"""Some of a group that a sentence begins with: "von den Slings haben 3 gefressen", "auf A hat eine …"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.names import ShelfNames
from bot.reading.rows_run_on import behind_small_words

#: What leads to a group of which some are told behind it.
LEADS: Final = frozenset({"of", "from", "on", "with"})


def some_of_a_group(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with a group in doubt, where a number right before the verb says how many of it did so.

    A number of prey stands with its prey, or with "each"; where it is all of them, nothing is in doubt.
    """
    out = list(items)
    for at in range(1, len(items) - 2):
        group = items[at]
        led = group.cat == "S" and len(group.val.tags) > 1 and not LEADS.isdisjoint(items[at - 1].senses)
        number = _number_of_those_who_act(items, at + 1) if led else None
        if number is None or number == len(group.val.tags):
            continue
        some = Ref(group.val.tags, sure=False, how="group", words=group.text, doubt="some_of_several")
        some.plural = some.group = True
        out[at] = Item("S", group.i, group.j, group.text, val=some)
    return out


def _number_of_those_who_act(items: Sequence[Item], at: int) -> int | None:
    """How many a number or a "one" right before what animals do by themselves says they are."""
    at = behind_small_words(items, at)
    if at + 1 >= len(items) or not any(_acts(verb) for verb in items[at + 1 :][:2]):
        return None
    if not (_acts(items[at + 1]) or "did" in items[at + 1].senses):
        return None
    if "one" in items[at].senses:
        return 1
    counts = items[at].cat == "N" and not items[at].val.ordinal and items[at].val.value is not None
    return int(items[at].val.value) if counts else None


def _acts(item: Item) -> bool:
    return any(not (v.group.keeper or v.group.base or v.group.noun) for v in item.senses.verbs)
