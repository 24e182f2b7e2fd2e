"""Words that tell nothing by themselves: an oath like prey, which burrow it was, and that it was filled."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, end_ahead, ends_sentence, is_deed, replaced
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.marks import TITLE_MARKS
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: A short form of prey that is an oath as well: "ffs".
OATHS: Final = rule_words("oath_or_prey")
#: Senses of the words right before prey.
_LEADS_TO_PREY: Final = frozenset({"a", "some", "size", "of", "the", "prekilled", "and", "verb"})


def without_oaths(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "84 F up on C ffs", "Ink refused again ffs", "ffs Ink escaped"; "gave Dot 3 ffs" are fruit flies."""
    return [item for at, item in enumerate(items) if item.text not in OATHS or _is_prey(items, at)]


def _is_prey(items: Sequence[Item], at: int) -> bool:
    before, behind = items[at - 1] if at else None, items[at + 1 : at + 2]
    if before is None or before.text in {"\n", "."}:
        return not behind or behind[0].text in TITLE_MARKS or "for" in behind[0].senses
    counted = any(item.cat == "N" for item in items[max(0, at - 3) : at])  # "3 flightless FFs"
    if counted or before.cat == "M" or not _LEADS_TO_PREY.isdisjoint(before.senses):
        return True
    clause = items[begins_behind(items, at, ends_sentence) : at]
    fed = any(not FEEDING.isdisjoint(item.senses.kinds) for item in clause)
    tells = any(is_deed(item) or item.cat == "A" for item in clause)
    return before.cat == "S" and (fed or not tells)


def which_she_closed(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "dug itself out of the hide it closed off": what she did before to a thing that is told of now."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        end = _end_of_which(items, at) if out and _is_mouth(out[-1]) else at
        if end > at and any(map(is_deed, out[begins_behind(out, len(out), ends_sentence) :])):
            at = end
            continue
        out.append(items[at])
        at += 1
    return out


def filled_so_deep(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "8 litre tub, filled it 15 cm deep": how deep the soil of a home is, and nothing done to its dish."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        deep = at + 1 + ("pron" in items[at + 1].senses) if at + 1 < len(items) else len(items)
        length = items[deep] if deep + 1 < len(items) else None
        filled = items[at].text in FILLED and length is not None and _is_depth(length, items[deep + 1])
        return (deep, []) if filled else None

    return replaced(items, stretch)


def _is_depth(length: Item, behind: Item) -> bool:
    return length.cat == "A" and length.val.dimension == "length" and behind.text in _DEEP


#: What is done to a home with its soil.
FILLED: Final = rule_words("filled_with_soil")
_DEEP: Final = rule_words("deep")


def _is_mouth(item: Item) -> bool:
    return item.senses.part == "mouth"


def not_this_time(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "ate a fruit fly, not a cricket this time": the prey of other days is none of this one."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        prey = next((n for n in range(at + 1, min(at + 4, len(items))) if "prey" in items[n].senses), None)
        if prey is None or "neg" not in items[at].senses or not at:
            return None
        end = end_ahead(items, prey + 1, ends_sentence)
        behind = " ".join(item.text for item in items[prey + 1 : end])
        return (end, []) if behind in THIS_TIME else None

    return replaced(items, stretch)


def which_try(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "got it 1st try": how often it was offered before, and no number of prey."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        number = items[at].val if items[at].cat == "N" else None
        tries = at + 1 < len(items) and items[at + 1].text in TRIES
        return (at + 2, []) if number is not None and number.ordinal and tries else None

    return replaced(items, stretch)


TRIES: Final = rule_words("tries")


def which_week(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "week 6 of Ink's fast": how long it has lasted, and none of six that are Ink's."""

    def stretch(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
        if items[at].text not in WEEKS or at + 2 >= len(items):
            return None
        number, of = items[at + 1 : at + 3]
        opens = at == 0 or ends_sentence(items[at - 1]) or items[at - 1].cat == "M"
        return (at + 3, []) if opens and number.cat == "N" and "of" in of.senses else None

    return replaced(items, stretch)


WEEKS: Final = rule_words("lengths_of_time")
THIS_TIME: Final = rule_words("this_time")
TIME: Final = frozenset(phrase.split()[-1] for phrase in THIS_TIME)


def _end_of_which(items: Sequence[Item], at: int) -> int:
    """Where "(that) it (had) closed off" ends, if it stands here; else the place itself."""
    place = at + (items[at].text in _THAT)
    if place >= len(items) or "pron" not in items[place].senses:
        return at
    place += 1
    place += place < len(items) and items[place].text in _HAD
    closes = place < len(items) and not items[place].senses.kinds.isdisjoint(_CLOSES)
    return place + 1 if closes and is_deed(items[place]) else at


_THAT: Final = rule_words("that")
_HAD: Final = rule_words("had")
_CLOSES: Final = frozenset({Kind.SEALED, Kind.OPENED})
