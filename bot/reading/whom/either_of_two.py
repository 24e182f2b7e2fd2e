"""Two animals of whom it is not known which: "Sunny, or maybe it was Saffron, refused". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, replaced
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.rule_words import rule_openings

#: Senses of the words that may stand between the "or" and the other one: "maybe", "I think", "it was".
_PERHAPS: Final = frozenset({"hedge", "believed", "self", "did", "pron", "fill"})


def either_of_two(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with no more than an "or" between two such animals, and no comma around the second."""
    return replaced(items, _either)


def _either(items: Sequence[Item], at: int) -> tuple[int, list[Item]] | None:
    joint_and_other = _other_one(items, at)
    if joint_and_other is None:
        return None
    joint, other = joint_and_other
    end = other + 1
    if end + 1 < len(items) and items[end].text == "," and items[end + 1].senses.verbs:
        end += 1
    return end, [items[at], items[joint], items[other]]


def one_of_those(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "one of Ink and Mole ate": one of those listed, and nobody knows which."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        opens = items[at].text.startswith(_ONE_OF) and len(items[at].val.tags) == 1
        listed, end = _listed(items, at) if opens else ([], at)
        if len(listed) > 1:
            tags = names.in_order(tag for item in listed for tag in item.val.tags)
            words = " ".join(item.text for item in listed)
            out.append(Item("S", items[at].i, listed[-1].j, words, val=Ref(tags, sure=False, words=words)))
            at = end
            continue
        out.append(items[at])
        at += 1
    return out


def _listed(items: Sequence[Item], at: int) -> tuple[list[Item], int]:
    """The animals of a list that begins at a place, and the place after it."""
    found: list[Item] = []
    while at < len(items) and items[at].cat == "S":
        found.append(items[at])
        joined = at + 2 < len(items) and not {"and", "or"}.isdisjoint(items[at + 1].senses)
        if not (joined or (at + 2 < len(items) and items[at + 1].text == ",")):
            break
        at += 2
    return found, at + 1


_ONE_OF: Final = rule_openings("one_of")


def _other_one(items: Sequence[Item], at: int) -> tuple[int, int] | None:
    """Where "or" and the other one stand: a comma may come before "or", and words that doubt behind it."""
    if items[at].cat != "S":
        return None
    place = at + 1
    comma = place < len(items) and items[place].text == ","
    place += comma
    if place >= len(items) or "or" not in items[place].senses:
        return None
    joint = place
    place += 1
    while place < len(items) and items[place].cat == "W" and not _PERHAPS.isdisjoint(items[place].senses):
        place += 1
    doubted = comma or place > joint + 1
    return (joint, place) if doubted and place < len(items) and items[place].cat == "S" else None
