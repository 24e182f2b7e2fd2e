"""Who is taken out of a group by a number: "all GBBs but the third", "apart from no. 2", "but tub 3"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from bot.reading.items.item import Item, Ref, joins
from bot.reading.names.shelf_names import ShelfNames, keys_of
from bot.reading.words.rule_words import rule_openings, rule_words, rule_words_in_order

_NUMBER_WORDS: Final = rule_words("number_words") | {"#"}
_ORDINALS: Final = rule_words_in_order("ordinals")
_LAST: Final = -1
_LAST_OF_ALL: Final = rule_words("last")
#: Of these senses and words a message has one in which somebody is told by a place in an order.
ORDERED: Final = frozenset({"the"} | rule_words("number_said") | {f"the {word}" for word in _ORDINALS})
_FIGURES: Final = re.compile(r"(?:the )?(\d{1,3})(?: ?(?:st|nd|rd|th))?")


def by_number(items: Sequence[Item], at: int, group: Ref, names: ShelfNames) -> tuple[list[Ref], int] | None:
    """Those of a group whom numbers behind an exception name, and the place after them."""
    refs: list[Ref] = []
    end = place = at
    by_order = False
    while True:
        found = _next_one(items, place, group, names, by_order=by_order)
        if found is None:
            return (refs, end) if refs else None
        ref, end, by_order = found
        refs.append(ref)
        if end == len(items) or not joins(items[end]):
            return refs, end
        place = end + 1


def _next_one(
    items: Sequence[Item], at: int, group: Ref, names: ShelfNames, *, by_order: bool
) -> tuple[Ref, int, bool] | None:
    """One of the group by the number at a place, the place after it, and whether it was one in an order."""
    place, part = at, ""
    while place < len(items) and _leads(items[place]):
        if "the" in items[place].senses:
            by_order = True
        elif items[place].text not in _NUMBER_WORDS:
            part = items[place].text
        place += 1
    said = _figure(items[place]) if place < len(items) else None
    if said is None:
        return None
    number, ordinal = said
    by_order = by_order or ordinal
    row = _of_a_place(group, part, number, names) if part else None
    tag = row or (None if part else _of_a_row(group, number, names, by_order=by_order))
    if tag is None and not by_order:
        return None
    end = place + 1
    if end < len(items) and "one" in items[end].senses:
        end += 1  # "but the 2nd one"
    words = items[place].text
    if tag is None:  # "all the slings but the last one": in which order?
        return Ref(group.tags, sure=False, words=words, doubt="excepted_whom"), end, by_order
    return Ref((tag,), how="aka", words=words), end, by_order


def _leads(item: Item) -> bool:
    return "the" in item.senses or item.text in _NUMBER_WORDS or (item.cat == "W" and "noun" in item.senses)


def _figure(item: Item) -> tuple[int, bool] | None:
    """The number that an item says, and whether it is one in an order."""
    text = item.text.casefold()
    last = text.rpartition(" ")[2]
    if last in _ORDINALS and item.cat in "DNWU":
        return _ORDINALS.index(last) + 1, True
    if text in _LAST_OF_ALL:
        return _LAST, True
    if item.cat == "N" and item.val.ordinal:
        return int(item.val.value), True
    match = _FIGURES.fullmatch(text) if item.cat in "DNU" else None
    return (int(match[1]), not text.isdecimal()) if match else None


def _of_a_row(group: Ref, number: int, names: ShelfNames, *, by_order: bool) -> str | None:
    """The one with a number of a row of names; "the third" only where the row is numbered in order."""
    own = names.numbered.get(group.base) if group.base is not None else None
    whole = (row for row in names.numbered.values() if set(row.values()) == set(group.tags))
    row = own or next(whole, None)
    if row is None:
        return None
    in_order = sorted(map(int, row)) == list(range(1, len(row) + 1))
    tag = row.get(str(len(row) if number == _LAST else number))
    return tag if tag in group.tags and (in_order or not by_order) else None


def _of_a_place(group: Ref, part: str, number: int, names: ShelfNames) -> str | None:
    """ "rack 2 but tub 3": whoever lives in that part of the place."""
    hits = names.phrases.get(keys_of(f"{group.place} {part} {number}"), ()) if group.place else ()
    tags = next((hit.tags for hit in hits if hit.how == "place"), ())
    return tags[0] if len(tags) == 1 and tags[0] in group.tags else None


def told_by_number(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with "the third" as an animal: "the GBBs molted, the third is in premolt" is of no day.

    It opens a clause, what it did follows, and the group that it is one of was named just before.
    """
    items = _with_points(items)
    out: list[Item] = []
    at = 0
    while at < len(items):
        group = _just_named(out) if _opens_a_clause(out) and _in_an_order(items, at) else None
        found = by_number(items, at, group, names) if group is not None else None
        if found is None or found[1] >= len(items) or not tells(items[found[1]]):
            out.append(items[at])
            at += 1
            continue
        (one, *more), end = found
        words = " ".join(item.text for item in items[at:end])
        if more or not one.sure:  # "the 2nd and 3rd"; of a group in no order
            one = Ref(
                group.tags if group is not None else (), sure=False, words=words, doubt="some_of_several"
            )
        out.append(Item("S", items[at].i, items[end - 1].j, words, val=one))
        at = end
    return out


def _with_points(items: list[Item]) -> list[Item]:
    """ "die 2. wollte nicht": a number with a point is one in an order, where what she did follows."""
    out: list[Item] = []
    for at, item in enumerate(items):
        before, behind = items[at - 1 : at], items[at + 1 : at + 2]
        number = out[-1] if len(out) > 1 and out[-1].cat == "N" else None
        goes_on = bool(behind) and not behind[0].upper and tells(behind[0])
        if number is None or item.text != "." or before != [number] or not goes_on:
            out.append(item)
        elif "the" in out[-2].senses and number.text.isdecimal():
            span = replace(number.val, ordinal=True)
            out[-1] = Item("N", number.i, item.j, number.text, val=span)
        else:
            out.append(item)
    return out


def tells(item: Item) -> bool:
    """Whether an item says that somebody did something, or did not."""
    return "verb" in item.senses or not _DID.isdisjoint(item.senses)


_DID: Final = frozenset({"neg", "did", "no", "yes", "undone"})


def _opens_a_clause(before: Sequence[Item]) -> bool:
    if before and before[-1].text in _ONLY:
        before = before[:-1]
    joined = len(before) > 1 and "and" in before[-1].senses  # not "all but the 1st and 3rd"
    return bool(before) and before[-2 if joined else -1].cat == "M"


_ONLY: Final = rule_words("only")


def _in_an_order(items: Sequence[Item], at: int) -> bool:
    """ "the third", which may be a day, "the 3rd (one)", or "number 3"."""
    item = items[at]
    if item.cat == "D":
        said = _figure(item)
        return said is not None and said[1] and item.text.startswith(_THE)
    nxt = items[at + 1] if at + 1 < len(items) else None
    if nxt is None or nxt.cat != "N":
        return False
    return item.text in _NUMBER or ("the" in item.senses and bool(nxt.val.ordinal))


_THE: Final = rule_openings("the")
_NUMBER: Final = rule_words("number_said")


def _just_named(before: Sequence[Item]) -> Ref | None:
    """The group that was named last, if its animals are several."""
    ref: Ref | None = next((item.val for item in reversed(before) if item.cat == "S"), None)
    return ref if ref is not None and len(ref.tags) > 1 and (ref.plural or ref.group) else None
