"""An animal that another is only compared with: "Mole is as big as Ink" tells nothing of Ink. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: The sense of words behind which stands what something is compared with: "bigger than".
THAN: Final = "than"


def compared(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without the animals that another is compared with, one or several.

    "Mole is bigger than Ink, 15 cm" measures Mole alone. Where nobody else is named the animal stays, since
    then it may be the one told of: "more than Ink ate yesterday".
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        out.append(items[at])
        at += 1
        if THAN in out[-1].senses and any(item.cat == "S" for item in out):
            at = _behind_names(items, at)
    return out


def as_on_another_day(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items without a day that today is only compared with: "checked Ink, same as yesterday".

    Of one whose burrow is shut as it was then, that it still is: "Mole sealed as yesterday".
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        end = _behind_day(items, at)
        said = out[begins_behind(out, len(out), ends_sentence) :]
        lasts = any(not item.senses.kinds.isdisjoint(_LASTING) for item in said)
        same = any(not _THE_SAME.isdisjoint(item.senses) for item in said)
        looked = any(Kind.CHECKED in item.senses.kinds for item in said)
        more = THAN in items[at].senses  # "ate more than yesterday"
        opens = not said and end < len(items)  # "as yesterday, but Mole refused"
        if end == at or not (lasts or same or looked or more or opens):
            out.append(items[at])
            at += 1
            continue
        out += [said_as(items[at], _STILL)] if lasts and not (same or looked or more) else []
        at = end
    return out


def _behind_day(items: Sequence[Item], at: int) -> int:
    """Where "as yesterday", "as on Monday" ends, if it stands here; else the place itself."""
    if items[at].text.rpartition(" ")[2] not in AS_THEN and THAN not in items[at].senses:
        return at
    day = at + 1
    while day < len(items) and not _BEFORE_A_DAY.isdisjoint(items[day].senses):
        day += 1
    return day + 1 if day < len(items) and items[day].cat == "D" else at


#: Words with which a day is likened to another.
AS_THEN: Final = rule_words("as_on_a_day")
_BEFORE_A_DAY: Final = frozenset({"on", "did", "pron"})
_LASTING: Final = frozenset({Kind.SEALED, Kind.PREMOLT})
_THE_SAME: Final = frozenset({"same", "still"})
_STILL: Final = "still"


def _behind_names(items: Sequence[Item], at: int) -> int:
    """Where the names at a place end: "Ink", or "Ink and Biscuit" if no more is told of the second."""
    if at >= len(items) or items[at].cat != "S":
        return at
    at += 1
    if at + 1 < len(items) and "and" in items[at].senses and items[at + 1].cat == "S":
        ends = at + 2
        if ends >= len(items) or items[ends].cat == "M":
            return ends
    return at
