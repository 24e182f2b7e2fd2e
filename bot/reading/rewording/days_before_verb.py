"""Days listed before what happened on each of them: "Ink hat Montag und Mittwoch gefressen"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.phrasings import word_set


def behind_the_verb(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with a list of days put behind what is told of them, where they are read as a list."""
    out = list(items)
    at = 0
    while at < len(out):
        end = _end_of_days(out, at)
        if end is not None:
            told_from = end + 1 if _leads(out, end) else end
            start, stop = _clause_around(out, at, told_from)
            behind = out[told_from:stop]
            if _told_behind(out[start:at], behind) and not _of_a_stretch(out, at):
                out[at:stop] = [*behind, *out[at:end]]
                end = stop
        at = end or at + 1
    return out


def _leads(items: Sequence[Item], at: int) -> bool:
    """Whether a mark stands there that leads from days to what happened on them: "Sat, Sun: misted D"."""
    return at < len(items) and items[at].text in _LEADS


_LEADS: Final = frozenset({":", "-"})
_BETWEEN: Final = frozenset({",", "+"})


def _of_a_stretch(items: Sequence[Item], at: int) -> bool:
    """ "between Monday and Tuesday Ink ate": two ends of a stretch, and no list."""
    return at > 0 and items[at - 1].text in word_set("before_two_days")


def _end_of_days(items: Sequence[Item], at: int) -> int | None:
    """Where a list of two days or more ends that begins at an item."""
    if items[at].cat != "D":
        return None
    end, days = at + 1, 1
    while True:
        nxt = end
        while nxt < len(items) and (items[nxt].text in _BETWEEN or {"and", "on"} & items[nxt].senses.keys()):
            nxt += 1
        if nxt == end or nxt >= len(items) or items[nxt].cat != "D":
            return end if days > 1 else None
        end, days = nxt + 1, days + 1


def _clause_around(items: Sequence[Item], at: int, end: int) -> tuple[int, int]:
    start = begins_behind(items, at, _parts)
    return start, next((n for n in range(end, len(items)) if _parts(items[n])), len(items))


def _parts(item: Item) -> bool:
    return item.cat == "M" or "and" in item.senses or "but" in item.senses


def _told_behind(before: Sequence[Item], behind: Sequence[Item]) -> bool:
    """Whether what happened is told behind the days alone, of those before them or of those behind."""
    verb = any(i.senses.verbs and not i.senses["verb"].group.noun for i in behind if "verb" in i.senses)
    told = any("verb" in i.senses or "prey" in i.senses or i.cat in "NDA" for i in before)
    whom = [any(i.cat in "SX" or "pron" in i.senses for i in part) for part in (before, behind)]
    return verb and not told and not all(whom) and not any(i.cat == "D" for i in behind)
