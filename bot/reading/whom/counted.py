"""So many of those named before: "both", "all three", and "one refused" of a group. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence, tells_a_deed
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.words.rule_words import rule_meanings, rule_words
from bot.terms import Kind


def counted_among(
    items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> tuple[Item, int] | None:
    """The animals of those before that an item counts, and the place of the item after them."""
    item, following = items[at], items[at + 1 : at + 3]
    if item.cat in "WN" and _stands_for_two(item) and _both(following[:1], before):
        named = _named(before)  # of three it is asked which two
        return _those(item, item, names.in_order(named), sure=len(named) == 2), at + 1
    if item.cat in "WN" and _stands_for_two(item) and _both_acted(following[:1], before):
        named = _named(before)  # where there are more of them it is asked which two
        sure = len(named) == 2 and not (_of_a_meal(following[0]) and _one_had_none(before))
        return _those(item, item, names.in_order(named), sure=sure), at + 1
    if item.cat == "S" and item.val.group and item.text in _ALL and _counts_animals(following):
        return _all_so_many(item, following[0], before, names), at + 2
    if item.cat == "N":
        return _some_of_those(items, at, before)
    return None


def _those(item: Item, last: Item, tags: tuple[str, ...], *, sure: bool, group: Ref | None = None) -> Item:
    words = group.words if group is not None else item.text
    ref = Ref(tags, how="group", words=words, sure=sure, doubt="some_of_several", group=True)
    new = Item("S", item.i, last.j, item.text, val=ref)
    new.owns = last.owns
    return new


def _named(before: Sequence[Item]) -> list[str]:
    """The tags of the animals named so far, each once; nothing where more than animals one by one were."""
    refs = [i.val for i in before if i.cat == "S"]
    if not all(ref.sure and len(ref.tags) == 1 for ref in refs):
        return []
    return list(dict.fromkeys(ref.tags[0] for ref in refs))


def _group_before(before: Sequence[Item]) -> Ref | None:
    """The animals named last, where they are sure."""
    ref: Ref | None = next((i.val for i in reversed(before) if i.cat == "S"), None)
    return ref if ref is not None and ref.sure else None


# -- two ------------------------------------------------------------------------------------------


def _stands_for_two(item: Item) -> bool:
    return "both" in item.senses or ("pron" in item.senses and not _TWO_WORDS.isdisjoint(item.text.split()))


#: Words of which one is in whatever stands for two: "them both", "the pair of them", "the two of them".
_TWO_WORDS: Final = rule_words("stands_for_two")


def _both(following: Sequence[Item], before: Sequence[Item]) -> bool:
    """ "fed Ink, cleaned Biscuit, watered both", "offered Ink and Biscuit a roach, both ate"."""
    nxt = following[0] if following else None
    ends = nxt is None or nxt.cat in "MD" or not _BEHIND_BOTH.isdisjoint(nxt.senses)
    prev = before[-1] if before else None
    handled = prev is not None and "verb" in prev.senses and prev.senses["verb"].group.keeper
    return ends and handled and len(_named(before)) > 1


def _both_acted(following: Sequence[Item], before: Sequence[Item]) -> bool:
    """ "Ink 16 cm. Mole 12 cm. Both had a roach": two told of one by one, and a sentence on what they did."""
    opens = bool(before) and (ends_sentence(before[-1]) or _each_acted(before))
    verbs = following[0].senses.verbs if following else ()
    acted = any(not (v.group.noun or v.group.base or v.group.act == "outcome") for v in verbs)
    of_prey = bool(following) and following[0].text in _DONE_TO_PREY
    return opens and acted and not of_prey and len(_named(before)) > 1


def _each_acted(before: Sequence[Item]) -> bool:
    """ "Ink ate and Mole refused and …": two animals, each with what it did, and an "and" or comma behind."""
    joined = before[-1].text == "," or "and" in before[-1].senses
    said = [i.cat if i.cat == "S" else "V" for i in before if i.cat == "S" or tells_a_deed(i)]
    return joined and said == ["S", "V", "S", "V"]


def _one_had_none(before: Sequence[Item]) -> bool:
    """ "Ink 2 roaches. watered Mole. both refused": the two of them, or the two that one was given?"""
    fed: list[bool] = []
    opens = True
    for item in before:
        if item.cat == "S":
            fed += [False] if opens or not fed else []
            opens = False
        elif ends_sentence(item):
            opens = True
        if fed and ("prey" in item.senses or _of_a_meal(item)):
            fed[-1] = True
    return len(set(fed)) > 1


def _of_a_meal(item: Item) -> bool:
    return any(verb.group.kind in FEEDING and not verb.group.weak for verb in item.senses.verbs)


_DONE_TO_PREY: Final = rule_words("done_to_prey")
#: "watered both, …", "both did", "both of their dishes".
_BEHIND_BOTH: Final = frozenset({"verb", "did", "pron"})


# -- all of so many -------------------------------------------------------------------------------

_ALL: Final = rule_words("all_of")


def _counts_animals(following: Sequence[Item]) -> bool:
    """ "fed Ink, Mole and Sunny, all three took": "all" with a number that counts no prey."""
    if not following or following[0].cat != "N" or (following[0].val.value or 0) < 2:
        return False
    nxt = following[1] if len(following) > 1 else None
    return nxt is None or nxt.cat in "MD" or not _BEHIND_ALL.isdisjoint(nxt.senses)


_BEHIND_ALL: Final = frozenset({"verb", "did", "neg"})


def _all_so_many(item: Item, number: Item, before: Sequence[Item], names: ShelfNames) -> Item:
    """The group just spoken of, those named before, or the shelf, if they are so many; else it is asked."""
    group = _group_before(before)
    spoken_of = list(group.tags) if group is not None else []
    shelf = [specimen.tag for specimen in names.specimens]
    tags = next((t for t in (spoken_of, _named(before), shelf) if len(t) == number.val.value), [])
    whole = tags or (spoken_of if len(spoken_of) > 1 else shelf)
    return _those(item, number, names.in_order(whole), sure=bool(tags), group=group)


# -- some of a group ------------------------------------------------------------------------------


def _some_of_those(items: Sequence[Item], at: int, before: Sequence[Item]) -> tuple[Item, int] | None:
    """ "fed the GBBs, one refused", "…, two of them refused": which of the group just named is asked."""
    prev, number = before[-1] if before else None, items[at].val.value or 0
    if prev is None or not (prev.cat == "M" or not _JOINS.isdisjoint(prev.senses)):
        return None
    acts = at + 1
    while acts < len(items) and not _OF_THEM.isdisjoint(items[acts].senses):
        acts += 1
    if acts == len(items) or _DONE_BY_HER.isdisjoint(items[acts].senses.kinds) or _counts_prey(items[acts]):
        return None
    group = _group_before(before)
    tags = group.tags if group is not None and (group.plural or group.group) else tuple(_named(before))
    some = 0 < number < len(tags)
    return (_those(items[at], items[at], tags, sure=False, group=group), acts) if some else None


_JOINS: Final = frozenset({"but", "and"})
_OF_THEM: Final = frozenset({"of", "pron"})
_DONE_BY_HER: Final = FEEDING | {Kind.MOLTED, Kind.SEALED, Kind.PREMOLT, Kind.OPENED, Kind.DIED}


def _counts_prey(item: Item) -> bool:
    return "prey" in item.senses or "leftover" in item.senses


# -- the others of a group ------------------------------------------------------------------------


def others_of_a_group(
    items: Sequence[Item], at: int, before: Sequence[Item], names: ShelfNames
) -> tuple[Item, int] | None:
    """ "B2 died, the other 3 GBBs ate": a group without those of it named before; the place behind it.

    Of a lot, "the other nine" are the lot.
    """
    end = at + 1
    number = items[end].val.value if end < len(items) and items[end].cat == "N" else None
    end += number is not None
    last = end
    while last < min(end + 3, len(items)) and not _WHERE.isdisjoint(items[last].senses):
        last += 1  # "the other spiders on C"
    group = items[last] if last < len(items) and items[last].cat == "S" else None
    told = [tag for i in before if i.cat == "S" and i.val.sure for tag in i.val.tags]
    if group is None:
        return _others_of_a_lot(items[at], items[at + 1 : end + 1], before, names, end) if number else None
    end, number = last, number or counted_in(group)
    ref = group.val
    if group.owns or ref.how in EXACT or not (ref.plural or ref.group) or len(ref.tags) < 2:
        return None
    left = tuple(tag for tag in ref.tags if tag not in told)
    some = 0 < len(left) < len(ref.tags)
    sure = some and all(i.val.sure for i in before if i.cat == "S") and number in {None, len(left)}
    return _those(items[at], group, left if some else ref.tags, sure=sure, group=ref), end + 1


_WHERE: Final = frozenset({"animal", "on", "of", "the"})


def counted_in(group: Item) -> int | None:
    """The number that was drawn together with its group: "3 GBBs"."""
    first = group.text.split()[0]
    return int(first) if first.isdecimal() else _NUMBERS.get(first)


_NUMBERS: Final = {word: int(number) for word, number in rule_meanings("small_numbers").items()}


def _others_of_a_lot(
    item: Item, behind: Sequence[Item], before: Sequence[Item], names: ShelfNames, end: int
) -> tuple[Item, int] | None:
    """ "the gang: 1 dead, the other nine ate": several that live together have one name."""
    named = {tag for i in before if i.cat == "S" for tag in i.val.tags}
    lot = names.by_tag[next(iter(named))] if len(named) == 1 else None
    acts = len(behind) > 1 and bool(behind[1].senses.verbs)
    if lot is None or lot.lot_size < 2 or not acts or behind[0].val.value not in range(2, lot.lot_size):
        return None
    return _those(item, behind[0], (lot.tag,), sure=True), end
