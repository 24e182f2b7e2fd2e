"""A name that nobody of the shelf bears, where one is put right: "fed Ink, no wait, Zork". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.corrections import fixes
from bot.reading.corrections.meant import MEANT
from bot.reading.corrections.words_of_fixing import AROUND, behind_the_cue, is_no, may_take_back
from bot.reading.items.item import Item, as_stranger
from bot.reading.names.shelf_names import ShelfNames


def strangers_meant(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with a word not understood as a name, where it stands for an animal that was named before.

    Whoever it is, what was told is not of the one named first: that would be stored of the wrong animal.
    """
    out = list(items)
    for at in range(1, len(items)):
        if not any(item.cat == "S" for item in out[:at]):
            continue
        word = _meant_before(items, at)
        if word is None and (fixes(items[at]) or is_no(items[at]) or "no" in items[at].senses):
            word = _meant_ahead(items, at)
        if word is not None and _may_be_a_name(items[word]):
            out[word] = as_stranger(items[word])
    return out


def _may_be_a_name(item: Item) -> bool:
    return item.cat == "U" and item.text.replace("'", "").isalpha() and len(item.text) > 1


def _meant_ahead(items: Sequence[Item], at: int) -> int | None:
    """Where the word stands that is meant: right behind the correction, or behind "that was"."""
    word = behind_the_cue(items, at) if may_take_back(items[at]) else at + 1
    while word < len(items) and (items[word].text in AROUND or not _LEADS_ON.isdisjoint(items[word].senses)):
        word += 1
    if word == len(items) or not _goes_on(items[word + 1 : word + 2]):
        return None
    return word if _takes_back(items, at, word) else None


def _takes_back(items: Sequence[Item], at: int, word: int) -> bool:
    """Whether a correction stands there, and no "rather dull", "no harm"."""
    marked = items[at - 1].text in AROUND, items[at + 1].text in AROUND
    if fixes(items[at]):
        return " " in items[at].text or any(marked) or items[word].upper
    given = items[word + 1].cat == "N" or "a" in items[word + 1].senses if word + 1 < len(items) else False
    return all(marked) or (
        items[at - 1].cat == "S" and word == at + 1 and given
    )  # "fed Dot no Zork 2 crickets"


def _meant_before(items: Sequence[Item], at: int) -> int | None:
    """ "fed Dot. Zork I mean": the word before, set apart from what was said."""
    apart = at > 1 and items[at].text in MEANT and items[at - 2].cat == "M"
    ends = at + 1 == len(items) or items[at + 1].cat == "M"
    return at - 1 if apart and ends else None


def _goes_on(behind: Sequence[Item]) -> bool:
    """Whether what stands behind a word lets it be a name: the end, a mark, what it did or was given."""
    return all(
        (item.cat in "MND" and item.text != ":") or not _BEHIND_A_NAME.isdisjoint(item.senses)
        for item in behind
    )


#: Senses of the words between a correction and who was meant: "that was", "it was for", "just".
_LEADS_ON: Final = frozenset({"pron", "did", "fill", "to", "for", "rel"})
_BEHIND_A_NAME: Final = frozenset(
    {
        "verb",
        "did",
        "a",
        "prey",
        "size",
        "prekilled",
        "and",
        "fix",
        "noun",
        "neg",
        "rel",
        "to",
        "still",
        "the",
    }
)
