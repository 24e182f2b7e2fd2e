"""Rows of names told by their first and last: "A1–A4", "GBBs 1 to 3". Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.names.places_in_plural import places_between
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.whom.excepted_numbers import tells
from bot.reading.whom.rows import does_itself, keys_of_row, row_of
from bot.reading.words.rule_words import rule_pattern, rule_words
from bot.terms import Kind


def ranges(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """ "A1–A4", "A1 to A4": all tags of the row from the one to the other."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.cat == "S" and at + 2 < len(items) and items[at + 2].cat == "S" and _spans(items[at + 1]):
            found = _of_places(items, at, names) or _of_row(items[at : at + 4], names)
            if found is not None:
                out.append(found)
                at += 3
                continue
        counted = (
            (_row_counted(items, at, names) or _row_begun(items, at, names)) if item.cat == "S" else None
        )
        if counted is not None:
            out.append(counted[0])
            at += counted[1]
            continue
        glued = _glued_range(items, at, names)
        if glued is not None:
            out.append(glued)
            at += 2
            continue
        out.append(item)
        at += 1
    return out


def _of_places(items: Sequence[Item], at: int, names: ShelfNames) -> Item | None:
    """ "A to C watered", "A-C": the places from the one to the other; not where A was moved to C."""
    first, joint, last = items[at : at + 3]
    if first.val.how != "place" or last.val.how != "place" or first.val.place == last.val.place:
        return None
    if "to" in joint.senses and any(Kind.REHOUSED in item.senses.kinds for item in items):
        return None
    words = f"{first.text} – {last.text}"
    tags = places_between(first.val.place or "", last.val.place or "", names)
    return Item("S", first.i, last.j, words, val=Ref(tags, how="group", words=words, plural=True, group=True))


def _of_row(said: Sequence[Item], names: ShelfNames) -> Item | None:
    """ "A1–A4": those of the row; of tags that form none, as "AA–CC", it is asked who is meant."""
    first, mark, last = said[:3]
    words = f"{first.text} – {last.text}"
    tags = _row_between(first, last, names)
    val = Ref(tags, how="tag", words=words, plural=True, group=True)
    if not tags:
        order = [names.order[item.val.tags[0]] for item in (first, last) if _is_tag(item)]
        told = mark.cat == "M" or mark.text in _THROUGH or (len(said) > 3 and does_itself(said[3]))
        if len(order) < 2 or order[0] >= order[1] or not told:
            return None
        between = tuple(s.tag for s in names.specimens[order[0] : order[1] + 1])
        val = Ref(between, how="tag", words=words, plural=True, sure=False, doubt="some_of_several")
    new = Item("S", first.i, last.j, words, val=val)
    new.upper = first.upper
    return new


def _is_tag(item: Item) -> bool:
    return item.val.how == "tag" and len(item.val.tags) == 1


def _glued_range(items: Sequence[Item], at: int, names: ShelfNames) -> Item | None:
    """ "GBB 1-4": a number behind the one of a name, with but a dash between."""
    first, last = items[at], items[at + 1] if at + 1 < len(items) else None
    row = row_of(first, names) if first.cat == "S" and first.val.how in {"aka", "name"} else None
    if last is None or row is None or last.cat not in "NU" or last.i != first.j + 1:
        return None
    nxt = items[at + 2] if at + 2 < len(items) else None
    if nxt is not None and (nxt.cat == "N" or not {"prey", "size"}.isdisjoint(nxt.senses)):
        return None  # "GBB 1-3 crickets each": so many crickets
    low, high = first.text.split()[-1], last.text
    numbers = names.numbered[row]
    if not (low in numbers and high in numbers and int(low) < int(high)):
        return None
    tags = names.in_order(tag for n, tag in numbers.items() if int(low) <= int(n) <= int(high))
    words = f"{first.text} – {high}"
    val = Ref(tags, how="aka", words=words, plural=True, base=row, group=True)
    return Item("S", first.i, last.j, words, val=val)


def _row_counted(items: Sequence[Item], at: int, names: ShelfNames) -> tuple[Item, int] | None:
    """ "GBBs 1 to 3": a row of names, the first and last number meant; and how many items that is."""
    if items[at].val.base is None or items[at].val.base not in names.numbered:
        return None
    for size in (2, 4):
        said = _FROM_TO.fullmatch(" ".join(item.text for item in items[at + 1 : at + size]))
        nxt = items[at + size] if at + size < len(items) else None
        counts = nxt is not None and not _IS_COUNTED.isdisjoint(nxt.senses)
        if said is None or (counts and not _each_has_some(items, at + size)):
            continue
        row, low, high = names.numbered[items[at].val.base], int(said[1]), int(said[2])
        found = _from_to(items[at : at + size], row, low, high, names)
        if found is not None:
            found.val.base = items[at].val.base
        return (found, size) if found is not None else None
    return None


def _row_begun(items: Sequence[Item], at: int, names: ShelfNames) -> tuple[Item, int] | None:
    """ "GBB 1-3 ate", "GBB 1 to 3 ate": the first by its name, and the number of the last."""
    *row, low = items[at].text.split()
    numbers = names.numbered.get(tuple(row)) if low.isdecimal() and items[at].val.how in EXACT else None
    size = 3 if at + 2 < len(items) and _goes_through(items[at + 1]) else 2
    last = items[at + size - 1] if numbers and at + size <= len(items) else None
    dashed = size > len(("GBB 1", "3")) or (last is not None and last.i > items[at].j)
    if numbers is None or last is None or not dashed or last.cat not in "NU" or last.text not in numbers:
        return None
    nxt = items[at + size] if at + size < len(items) else None
    if nxt is not None and not (nxt.cat == "M" or "and" in nxt.senses or tells(nxt)):
        return None  # "GBB 1-2 crickets"
    found = _from_to(items[at : at + size], numbers, int(low), int(last.text), names)
    if found is None or len(found.val.tags) < len(("first", "last")):
        return None
    found.val.base = tuple(row)
    return found, size


def _from_to(
    said: Sequence[Item], row: Mapping[str, str], low: int, high: int, names: ShelfNames
) -> Item | None:
    """Those of a row of names from one number to another, in the words said of them."""
    tags = names.in_order(tag for number, tag in row.items() if low <= int(number) <= high)
    words = f"{said[0].text} – {high}"
    ref = Ref(tags, how="aka", words=words, plural=True, group=True)
    return Item("S", said[0].i, said[-1].j, words, val=ref) if tags else None


#: Senses of the words behind a number that counts them.
_IS_COUNTED: Final = frozenset({"prey", "size", "each"})


def _each_has_some(items: Sequence[Item], at: int) -> bool:
    """ "GBBs 1 to 3 each a pinhead": behind "each" comes what each had, so that the numbers count none."""
    had = items[at + 1] if "each" in items[at].senses and at + 1 < len(items) else None
    return had is not None and (had.cat == "N" or "a" in had.senses)


_FROM_TO: Final = re.compile(
    rf"(\d{{1,4}}) ?(?:{rule_pattern('to')}|{rule_pattern('through')}|-|–) ?(\d{{1,4}})"
)


def _spans(item: Item) -> bool:
    return (item.cat == "M" and item.text in "-–") or "to" in item.senses or item.text in _THROUGH


def _goes_through(item: Item) -> bool:
    """ "GBB 1 to 3": a word that leads to the last of a row."""
    return item.text in _TO or ("to" in item.senses and item.senses["to"].group.act == "through")


_THROUGH: Final = rule_words("through")


_TO: Final = _THROUGH | rule_words("to")


#: Of these a message has one in which a row is told by its first and last: a word between them, or figures.
ROW_WORDS: Final = frozenset({"-", "–", "to", "N", "U"} | _THROUGH)


def _row_between(first: Item, last: Item, names: ShelfNames) -> tuple[str, ...]:
    if first.val.how not in {"tag", "aka"} or last.val.how not in {"tag", "aka"}:
        return ()
    row, other = (keys_of_row(item) for item in (first, last))
    if row[:-1] != other[:-1] or not (row[-1].isdigit() and other[-1].isdigit()):
        return ()
    bare = {tag.lstrip("#"): tag for tag in names.by_tag if tag.lstrip("#").isdigit()}  # "11 to 13"
    numbers = names.numbered.get(row[:-1], {}) if len(row) > 1 else bare
    low, high = int(row[-1]), int(other[-1])
    return (
        names.in_order(tag for number, tag in numbers.items() if low <= int(number) <= high)
        if low < high
        else ()
    )
