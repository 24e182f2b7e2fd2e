"""Which of those just named an animal is, by its place among them: "la primera ayer, la segunda hoy"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, begins_behind, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import does_itself
from bot.reading.words.rule_words import rule_words, rule_words_in_order


def told_by_rank(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with an article and a word for a place in an order as the one that was named there.

    Of feeders named before, or where fewer were named, nothing is told for sure, so that it is asked.
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        rank, end = _rank(items, at) or _ordinal(items, at) or (0, at)
        named = _named_one_by_one(out) if rank else []
        if not named:
            out.append(items[at])
            at += 1
            continue
        words = " ".join(item.text for item in items[at:end])
        acts = end < len(items) and does_itself(items[end])  # "the first ate it": no feeder did
        val = _ref(named, rank, words, of_prey=not acts and _of_prey(out))
        out.append(Item("S", items[at].i, items[end - 1].j, words, val=val))
        at = end
    return out


def _rank(items: Sequence[Item], at: int) -> tuple[int, int] | None:
    """The place in an order that an article and a word tell there, and where they end: "la primera"."""
    word = items[at + 1] if at + 1 < len(items) else None
    sense = word.senses.get("rank") if word is not None and items[at].cat == "W" else None
    if sense is None or "the" not in items[at].senses:
        return None
    behind = items[at + 2] if at + 2 < len(items) else None
    thing = behind is not None and (behind.cat in "SU" or any(v.group.noun for v in behind.senses.verbs))
    counts = behind is not None and not _THINGS.isdisjoint(behind.senses)
    return None if behind is None or thing or counts else (sense.group.count or 0, at + 2)


def _ordinal(items: Sequence[Item], at: int) -> tuple[int, int] | None:
    """The same of "the first", which may be a day, and "the second one": before what that one did."""
    words, end = items[at].text.split(), at + 1
    if items[at].text in _THE and end < len(items):
        words, end = [*words, items[end].text], end + 1
    if len(words) != len(("the", "first")) or words[0] not in _THE or words[1] not in ORDINALS:
        return None
    end += end < len(items) and items[end].text in _ONE
    behind = items[end] if end < len(items) else None
    acts = behind is not None and (does_itself(behind) or not _DID.isdisjoint(behind.senses))
    return (ORDINALS.index(words[1]) + 1, end) if acts else None


_THE: Final = rule_words("the")
_ONE: Final = rule_words("bare_one")
ORDINALS: Final = rule_words_in_order("ordinals")
#: What a message has one of in which somebody is told by a place in an order.
RANKED: Final = frozenset({"rank"} | {f"the {word}" for word in ORDINALS} | set(ORDINALS))
_DID: Final = frozenset({"elided", "neg", "undone", "a", "size", "prekilled"})
_THINGS: Final = frozenset({"prey", "noun", "dur", "of", "occasion", "market"})


def _named_one_by_one(before: Sequence[Item]) -> list[Ref]:
    """The animals named in the sentence, or in the one before; none where fewer than two were."""
    start = begins_behind(before, len(before), _parts)
    named = _named_in(before[start:])
    if not named and start:
        named = _named_in(before[begins_behind(before, start - 1, _parts) : start])
    return named if len(named) > 1 and all(len(ref.tags) == 1 and ref.sure for ref in named) else []


def _named_in(items: Sequence[Item]) -> list[Ref]:
    return [i.val for i in items if i.cat == "S" and not i.val.words.startswith(_OWN)]


def _parts(item: Item) -> bool:
    return ends_sentence(item) and item.text != ":"


#: What marks a reference made here, so that it is none of those named.
_OWN: Final = "\N{ZERO WIDTH SPACE}"


def _of_prey(before: Sequence[Item]) -> bool:
    """Whether prey was named before, which may be ranked too; not where an animal was before by its rank."""
    ranked = any(item.cat == "S" and item.val.words.startswith(_OWN) for item in before)
    return not ranked and any("prey" in item.senses for item in before)


def _ref(named: Sequence[Ref], rank: int, words: str, *, of_prey: bool) -> Ref:
    place = len(named) if rank < 0 else rank
    if of_prey or place > len(named):
        tags = tuple(dict.fromkeys(tag for ref in named for tag in ref.tags))
        return Ref(tags, sure=False, words=_OWN + words, doubt="two_fit")
    return Ref(named[place - 1].tags, how="aka", words=_OWN + words)
