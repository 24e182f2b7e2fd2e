"""Deeds in their bare form that were done: "forgot to water D, did it just now", "helped me feed". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_meanings, rule_words

DID: Final = rule_words("did_it")


def done_later(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the deed told where it was done, and without when it was not."""
    for at, item in enumerate(items):
        if item.text in DID and at + 1 < len(items) and _stands_for_it(items[at + 1]):
            begins = begins_behind(items, at, ends_sentence)
            said = _put_off(items[begins:at])
            if said is not None:
                return [*items[:begins], *said, *items[at + 2 :]]
    return list(items)


#: What may be put off, or was not done, with what is said of it once it is.
_DEEDS: Final = rule_meanings("done_later")


def _stands_for_it(item: Item) -> bool:
    return "pron" in item.senses


def _put_off(before: Sequence[Item]) -> list[Item] | None:
    """What was to be done, and to whom; ``None`` where nothing was put off, or something else is told."""
    deed = next((n for n, item in enumerate(before) if item.text in _DEEDS), None)
    whom = [item for item in before if item.cat == "S"]
    if deed is None or not whom or not all(item.cat in "SDMW" for item in before):
        return None
    opens = before[0].cat == "S" or "undone" in before[0].senses  # "was meant to feed Ink" could ask
    put_off = opens and (any("undone" in i.senses for i in before[:deed]) or " " in before[deed].text)
    if not put_off or any(item.senses.verbs for n, item in enumerate(before) if n != deed):
        return None
    return [said_as(before[deed], _DEEDS[before[deed].text]), *whom]


HELPED: Final = rule_words("helped")


def helped_with(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "my brother helped me rehouse Ink": the items with what the two did as done."""
    out = list(items)
    for at in range(len(out) - 3, -1, -1):
        helped = out[at].text in HELPED and "self" in out[at + 1].senses
        if helped and out[at + 2].text in _DEEDS:
            out[at : at + 3] = [said_as(out[at + 2], _DEEDS[out[at + 2].text])]
    return out
