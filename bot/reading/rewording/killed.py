"""One animal killed by another: "Captain was eaten by T07" is a death, "she killed him" is asked. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words

KILLED: Final = rule_words("killed")
KILLED_BY: Final = rule_words("killed_by")
#: Verbs behind which a "by" leads to who did it.
EATEN: Final = rule_words("got_eaten")


def killed_by_another(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with whoever another of the shelf killed as dead, and "she killed him" as "she ate him".

    Which of two "she" and "him" are is asked behind that.
    """

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        got = items[at].text in _GOT and at + 1 < len(items)
        end = _by_whom(items, at + got)
        if end and _of_an_animal(items, at):
            return end, [said_as(items[at], "died")]
        if items[at].text in KILLED and at and _is_somebody(items[at - 1]) and _whom(items, at + 1):
            return at + 1, [said_as(items[at], "ate")]
        return None

    return replaced(items, stretch)


def _by_whom(items: Sequence[Item], at: int) -> int:
    """Behind "killed by T07", "got eaten by T07"; 0 where nobody of the shelf did it."""
    by = items[at].text in EATEN and at + 1 < len(items) and items[at + 1].text in _BY
    whom = at + 2 if by else at + 1 if items[at].text in KILLED_BY else len(items)
    return whom + 1 if whom < len(items) and items[whom].cat == "S" and not items[whom].owns else 0


_BY: Final = rule_words("by")
_GOT: Final = rule_words("got")


def _of_an_animal(items: Sequence[Item], at: int) -> bool:
    """Whether an animal is named right before, with no word between but "was" or "got"."""
    before = at - 1
    while before >= 0 and "did" in items[before].senses:
        before -= 1
    return before >= 0 and items[before].cat == "S" and not items[before].owns


def _is_somebody(item: Item) -> bool:
    return item.cat == "S" or "pron" in item.senses


def _whom(items: Sequence[Item], at: int) -> bool:
    """ "him" and no more: not "her cricket"."""
    pron = items[at].senses.get("pron") if at < len(items) else None
    ends = at + 1 >= len(items) or items[at + 1].cat in "MDX"
    return pron is not None and pron.group.sex is not None and ends
