"""Bare numbers that go on a row of numbered names: "GBBs 1 & 3 moulted, 2 refused". Pure."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows_bracketed import out_of_brackets
from bot.reading.whom.rows_run_on import behind_an_auxiliary, denied_behind_a_verb
from bot.reading.words.marks import HARD, LIST_MARKS, TICKS, TITLE_MARKS
from bot.reading.words.numbers import NumberSpan
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def numbered(items: list[Item], names: ShelfNames) -> list[Item]:
    """Bare numbers that go on a row of names: "GBBs 1 & 3 moulted, 2 refused"."""
    out: list[Item] = []
    row: tuple[str, ...] | None = None
    items = _without_colons(_apart(out_of_brackets(items, names), names))
    items = behind_an_auxiliary(items, names)
    for place, said in enumerate(items):
        item = _behind_number_sign(items, place) or said
        if item.cat == "S":
            row = row_of(item, names) or (row if item.val.how in {"tag", "aka", "name"} else None)
            if item.val.base is not None and item.val.group and item.val.plural:
                row = item.val.base
            out.append(item)
            continue
        if item.cat == "M" and item.text == "\n":
            row = None
        if row is not None and _only_leads_to_a_number(items, place):
            continue
        tag = (
            names.numbered[row].get(item.text)
            if row is not None and item.cat == "N" and row in names.numbered
            else None
        )
        if tag is None or not _means_animal(items, place, out):
            out.append(item)
            continue
        _join_row(out, item, tag, row, names)
    return out


def _only_leads_to_a_number(items: Sequence[Item], place: int) -> bool:
    """The sign of "GBB #3", the word of "all bar number 2"."""
    nxt = items[place + 1] if place + 1 < len(items) else None
    if nxt is None:
        return False
    if items[place].text == "#":
        return nxt.text.isdecimal()
    return items[place].text in NUMBER and nxt.cat == "N"


def _behind_number_sign(items: Sequence[Item], place: int) -> Item | None:
    """The number of "GBB #3", which may be no more than a word with figures."""
    item = items[place]
    if item.cat == "S" or not place or items[place - 1].text != "#" or not item.text.isdecimal():
        return None
    return Item("N", item.i, item.j, item.text, val=NumberSpan(0, 1, int(item.text)))


def _apart(items: list[Item], names: ShelfNames) -> list[Item]:
    """The items with "1,2" behind a row of names in its numbers: "GBB 1,2 fed"."""
    if not any("," in item.text and _JOINED.fullmatch(item.text) for item in items):
        return items
    out: list[Item] = []
    row: dict[str, str] = {}
    for item in items:
        if item.cat == "S" and item.val.base is not None:
            row = names.numbered.get(item.val.base, {})
        said = item.text.split(",")
        if not (row and item.cat in "NU" and _JOINED.fullmatch(item.text) and all(n in row for n in said)):
            out.append(item)
            continue
        for n, figures in enumerate(said):
            out += [Item("M", item.i, item.j, ",")] if n else []
            out.append(Item("N", item.i, item.j, figures, val=NumberSpan(0, 1, int(figures))))
    return out


def _without_colons(items: list[Item]) -> list[Item]:
    """ "GBBs - 1: ate, 2: refused": a colon between a number and what the animal did is let go."""
    below = next((n for n, item in enumerate(items) if item.cat == "S" and item.val.base is not None), None)
    if below is None:
        return items
    pairs = zip(items, items[1:], items[2:], strict=False)
    colons = {
        n
        for n, (who, mark, does) in enumerate(pairs, start=1)
        if n > below and who.cat == "N" and mark.text == ":" and does_itself(does)
    }
    return [item for n, item in enumerate(items) if n not in colons] if colons else items


_JOINED: Final = re.compile(r"\d{1,3}(?:,\d{1,3})+")


#: Words, and the mark, before a number that names.
NUMBER: Final = rule_words("number_or_nr") | {"#"}


def row_of(item: Item, names: ShelfNames) -> tuple[str, ...] | None:
    """The row of numbered names that an animal's name is of, if it is of one."""
    if item.val.base is not None:
        return item.val.base if item.val.base in names.numbered else None
    keys = keys_of_row(item)
    if len(keys) >= 2 and keys[-1].isdigit() and keys[:-1] in names.numbered:
        return keys[:-1]
    return None


def _means_animal(items: Sequence[Item], place: int, before: Sequence[Item]) -> bool:
    """Whether a bare number names an animal of the row, and counts nothing."""
    nxt = items[place + 1] if place + 1 < len(items) else None
    prev = before[-1] if before else None
    listed = prev is not None and (
        prev.cat == "S"
        or prev.text in LIST_MARKS
        or "and" in prev.senses
        or "except" in prev.senses
        or prev.text in HARD
        or prev.text == ":"
        or (prev.text in TITLE_MARKS and before[-2:-1] and before[-2].cat == "S" and before[-2].val.plural)
        or "all" in prev.senses
        or "but" in prev.senses
        or prev.text in TICKS
    )
    if not listed:
        return _acts_in_a_row(items, place, before) or denied_behind_a_verb(items, place, before)
    if nxt is None or nxt.cat in {"M", "N"} or "and" in nxt.senses:
        return True
    if nxt.cat == "D":
        return _each_on_its_day(before)
    if not _ALL_OF_THEM.isdisjoint(nxt.senses) and does_itself(
        items[place + 2] if place + 2 < len(items) else nxt
    ):
        return True  # "GBBs 2 and 3 each had a pinhead"
    if "each" in nxt.senses and _had_each(items[place + 2 : place + 3]):
        return True  # "GBB 1 + 3 je ein Heimchen"
    if prev is not None and "and" in prev.senses and _plural_with_number(before[-2]):
        return True  # "GBBs 1 and 2 pinheads each": more than one
    if any(c in nxt.senses for c in ("prey", "size", "ones", "prekilled", "each", "temp", "dur")):
        return False
    if "a" in nxt.senses:  # "GBBs 1 and 2 a pinhead each": a number before an article counts nothing
        return any("prey" in i.senses for i in items[place + 2 : place + 4])
    return (
        nxt.text in _INTO
        or "verb" in nxt.senses
        or not _SAYS_SO.isdisjoint(nxt.senses)
        or _does_strangely(nxt, items[place + 2 : place + 3])
    )


def _does_strangely(item: Item, behind: Sequence[Item]) -> bool:
    """ "2 refused, 4 splorged a pinhead": a word not understood before what was eaten, and no count of it."""
    eaten = any(i.cat == "N" or not _EATEN.isdisjoint(i.senses) for i in behind)
    return item.cat == "U" and item.text.isalpha() and not item.upper and eaten


_SAYS_SO: Final = frozenset({"neg", "undone", "did", "still", "yes", "no", "except", "but"})
_EATEN: Final = frozenset({"a", "prey", "size", "prekilled", "pron"})
_INTO: Final = rule_words("into_alone")


_ALL_OF_THEM: Final = frozenset({"each", "all", "both"})


def _had_each(behind: Sequence[Item]) -> bool:
    """Whether behind an "each" stands how much each had."""
    return any(item.cat == "N" or "a" in item.senses for item in behind)


def _acts_in_a_row(items: Sequence[Item], place: int, before: Sequence[Item]) -> bool:
    """ "GBBs: 1 ate 2 ate 3 moulted": below a row, a number between what two of it did."""
    prev, nxt = before[-1] if before else None, items[place + 1] if place + 1 < len(items) else None
    if prev is None or nxt is None or not (does_itself(prev) and does_itself(nxt)):
        return False
    head = next((n for n, i in enumerate(before) if i.text == ":"), -1)
    row = head > 0 and before[head - 1].cat == "S" and before[head - 1].val.base is not None
    row = row or _plural_with_number(before[0])  # "GBBs 1 ate 2 refused"
    return row and all(i.cat == "S" or does_itself(i) for i in before[head + 1 :])


def _plural_with_number(item: Item) -> bool:
    words = item.text.split()
    return item.cat == "S" and len(words) > 1 and words[-1].isdigit() and words[-2].endswith("s")


def does_itself(item: Item) -> bool:
    """Whether an item is what an animal did by itself, or did not do."""
    return any(not (v.group.keeper or v.group.noun or v.group.base) for v in item.senses.verbs)


def _each_on_its_day(before: Sequence[Item]) -> bool:
    """ "GBBs 1+3 moulted sat, 2 thurs": behind what happened on a day, and is nothing that is counted."""
    told = [item for item in before if item.cat == "D" or item.senses.kinds]
    if len(told) < 2 or told[-1].cat != "D" or before[-2:-1] != [told[-1]]:
        return False
    return told[-2].senses.kinds.isdisjoint(_COUNTED_KINDS)


#: Kinds that are told with a number: of prey, of millilitres, of centimetres.
_COUNTED_KINDS: Final = FEEDING | {
    Kind.WATERED,
    Kind.MEASURED,
    Kind.SAC,
    Kind.STOCKED,
    Kind.ACQUIRED,
    Kind.LEFT,
}


def _join_row(out: list[Item], item: Item, tag: str, row: tuple[str, ...] | None, names: ShelfNames) -> None:
    """Adds a number's animal: the first number of "GBBs 1 & 3" narrows the group down."""
    last = out[-1] if out else None
    new = Item("S", item.i, item.j, item.text, val=Ref((tag,), how="aka", words=item.text))
    if last is not None and last.cat == "S" and last.val.base == row and len(last.val.tags) > 1:
        new = Item(
            "S",
            last.i,
            item.j,
            f"{last.text} {item.text}",
            val=Ref((tag,), how="aka", words=f"{last.text} {item.text}"),
        )
        out[-1] = new
        return
    if (
        last is not None
        and last.text in "-–"
        and len(out) > 1
        and out[-2].cat == "S"
        and out[-2].val.base == row
    ):
        out[-1] = Item("M", last.i, last.j, ":")  # "GBBs - 1 ate, 2 refused"
    out.append(new)


def keys_of_row(item: Item) -> tuple[str, ...]:
    """The words of a name without the marks within it."""
    return tuple(key for key in item.text.split() if key not in _WITHIN_TAGS)


_WITHIN_TAGS: Final = frozenset("-/#._")
