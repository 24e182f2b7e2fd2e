"""Phrases that stand around what they are about: "wollte die Schabe nicht", "lässt die Grille links liegen".

The lexicon has them with "…" between their two parts (``split``). They are drawn together where the second
part stands, so that the rest of the reader finds one word for what happened behind whom it happened to.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.lexicon import Lexicon, SplitPhrase
from bot.terms import Kind


def drawn_together(items: list[Item], keys: Sequence[str], lexicon: Lexicon) -> list[Item]:
    """The items with the two parts of each split phrase as one, at the place of the second."""
    if lexicon.split.keys().isdisjoint(keys):
        return items
    out = list(items)
    at = 0
    while at < len(out):
        begun = lexicon.split.get(keys[out[at].i], ()) if out[at].cat in "WU" else ()
        found = _closed(out, at, begun, keys) if begun else None
        if found is not None:
            first, end, phrase = found
            out[at:end] = _as_one(out[at:end], first - at, phrase, lexicon)
            continue
        at += 1
    return out


def _as_one(part: Sequence[Item], second: int, phrase: SplitPhrase, lexicon: Lexicon) -> list[Item]:
    """A phrase and what it is put around: an exception before whom it takes out, what happened behind."""
    first, last = part[0], part[-1]
    within = [item for item in part[:second] if item.i >= first.i + len(phrase.opens)]
    words = " ".join((*phrase.opens, *phrase.closes))
    senses = lexicon.account.meaning((phrase.sense,))
    if phrase.sense.cat == "except":
        return [Item("W", first.i, first.j, words, senses=senses), *within]
    return [*within, Item("W", part[second].i, last.j, words, senses=senses)]


def _closed(
    items: Sequence[Item], at: int, begun: Sequence[SplitPhrase], keys: Sequence[str]
) -> tuple[int, int, SplitPhrase] | None:
    """Where the second part stands of one of the phrases begun at an item, the longest of them."""
    behind = [(phrase, _end_of(items, at, phrase.opens, keys)) for phrase in begun]
    opened = [(phrase, opens) for phrase, opens in behind if opens is not None]
    if not opened:
        return None
    shortest = min(opens for _, opens in opened)
    for place in range(shortest, len(items)):
        for phrase, opens in opened:
            end = _end_of(items, place, phrase.closes, keys) if place >= opens else None
            if end is not None and _may_be_within(items[opens:place], phrase):
                return place, end, phrase
        if place >= max(opens for _, opens in opened) and not _light(items[place]):
            return None
    return None


def _end_of(items: Sequence[Item], place: int, words: Sequence[str], keys: Sequence[str]) -> int | None:
    """The item behind some words, where they stand from ``place`` on and end with an item."""
    start = items[place].i
    if tuple(keys[start : start + len(words)]) != tuple(words):
        return None
    ends = (n + 1 for n in range(place, len(items)) if items[n].j == start + len(words))
    return next(ends, None)


def _may_be_within(items: Sequence[Item], phrase: SplitPhrase) -> bool:
    """Whether it may be what a phrase is put around: an exception takes out animals, and nothing else.

    What was left is no animal, nor what did harm: "wollte Mole nicht" is the keeper's. In "GBB 1 frisst 2
    nicht" the number is another animal, or nothing that is known.
    """
    if phrase.sense.group.kind is Kind.REFUSED or phrase.sense.cat == "danger":
        return all(i.cat != "S" for i in items) and (not items or items[-1].cat != "N")
    if phrase.sense.cat != "except":
        return True
    return any(i.cat == "S" for i in items) and all(
        i.cat == "S" or not {"the", "and"}.isdisjoint(i.senses) for i in items
    )


def _light(item: Item) -> bool:
    """Whether an item may stand within: whom and what it is about, how much, when, and small words."""
    if item.cat in "SNDAP":
        return True
    return item.cat == "W" and not item.senses.verbs and not _WITHIN.isdisjoint(item.senses)


_WITHIN: Final = frozenset(
    {"the", "a", "some", "size", "prey", "prekilled", "fill", "pron", "noun", "still", "on", "both", "trait"}
    | {"and", "with", "of"}
)
