"""Corrections within a message: "fed Ink, no wait, Biscuit", "took 2, sorry, 3 crickets"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.marks import HARD
from bot.reading.names import ShelfNames

#: Words that between marks take back what stands before: "a roach, well, a cricket".
WELL: Final = frozenset({"well", "er", "erm", "um", "uh", "or rather"})
#: Marks and small words that may stand around a correction.
_AROUND: Final = frozenset({"fix", "fill", "a", "the", "it", "self"})


def corrected(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with what was taken back replaced by what was meant."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if out and (_fixes(item) or _no_set_apart(out, items, at)):
            end = _after_fix(items, at)
            replaced = _replaced(out, items, end)
            if replaced is not None:
                at = replaced
                continue
        out.append(item)
        at += 1
    return out


def _fixes(item: Item) -> bool:
    return "fix" in item.senses and "verb" not in item.senses


def _no_set_apart(out: Sequence[Item], items: Sequence[Item], at: int) -> bool:
    """ "on Monday, no, Tuesday", "4 - no, 2 mealworms": a "no" between two things of one sort."""
    marked = at + 1 < len(items) and items[at + 1].text in _PARTS
    thinks_better = items[at].text in WELL and marked
    denies = "no" in items[at].senses and "neg" not in items[at].senses
    counts = denies and out[-1].cat == "N" and at + 1 < len(items) and items[at + 1].cat == "N"
    if counts and out[-1].val.value and items[at + 1].val.value:
        return True  # "had one no two crickets"
    if not (denies or thinks_better) or out[-1].text not in _PARTS:
        return False
    new = _after_fix(items, at + 1)
    new += new < len(items) and "a" in items[new].senses
    before = next((i for i in reversed(out) if i.text not in _PARTS), None)
    if new >= len(items) or before is None:
        return False
    if items[new].cat == "S":
        return marked and before.cat == "S"
    if _prey(before) and _number(items[new]):  # "3 crickets, no, 2"
        return marked and len(out) > 1 and any(_number(i) for i in out[-4:])
    if _prey(before):  # "2 crickets, no roach" had none
        return marked and _prey(items[new])
    return any(sort(before) and sort(items[new]) for sort in (_number, _day, _amount))


_PARTS: Final = frozenset({",", "–", "-", ".", "(", "…"})


def _after_fix(items: Sequence[Item], at: int) -> int:
    """The first item of what was meant."""
    takes_back = at < len(items) and ("no" in items[at].senses or items[at].text in WELL)
    if takes_back and "fix" not in items[at].senses:
        at += 1
    while at < len(items) and (items[at].text in {",", "–", "-", ".", "(", "*"} or "fix" in items[at].senses):
        at += 1
    if at + 1 < len(items) and "did" in items[at + 1].senses and _points(items[at]):
        return at + 2  # "it was", "that was"
    return at


def _points(item: Item) -> bool:
    return "pron" in item.senses or "the" in item.senses or "fill" in item.senses


def _replaced(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """Puts what was meant in the place of the last thing of its sort; the next item, if it can be done."""
    if at >= len(items):
        return None
    new = items[at]
    if new.cat == "S":
        return _replaced_prey_of(out, items, at) or _replaced_animals(out, items, at)
    for sort in (_number, _day, _amount, _prey, _verb):
        if sort(new):
            same = _amount_or_figure if sort is _amount else sort
            place = next(
                (n for n in range(len(out) - 1, -1, -1) if same(out[n]) or out[n].text == "\n"), None
            )
            if place is not None and same(out[place]):
                if sort is _verb and any(i.cat == "S" for i in items[at:]):
                    return None
                _trim(out)
                out[place] = new
                if sort is _number:
                    _drop_prey_between(out, place, items, at)
                return at + 1
            return None
    if "a" in new.senses and at + 1 < len(items) and _prey(items[at + 1]):
        return _replaced(out, items, at + 1)
    return None


def _replaced_prey_of(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """ "Ink 1 locust, Mole 1 locust, sorry, Mole's was a cricket": what one of those named before had."""
    whose, behind = items[at], [i for i in items[at + 1 : at + 4] if not _AROUND_PREY & i.senses.keys()]
    if not whose.owns or not behind or not _prey(behind[0]) or "did" not in items[at + 1].senses:
        return None
    named = next((n for n, i in enumerate(out) if i.cat == "S" and i.val.tags == whose.val.tags), None)
    had = next((n for n in range(named + 1, len(out)) if _prey(out[n])), None) if named is not None else None
    if had is None or any(i.cat == "S" for i in out[(named or 0) + 1 : had]):
        return None
    out[had] = behind[0]
    _trim(out)
    return items.index(behind[0], at) + 1


_AROUND_PREY: Final = frozenset({"did", "a", "the"})


def _replaced_animals(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    new, end = _list_from(items, at)
    acts = end < len(items) and ("verb" in items[end].senses or "neg" in items[end].senses)
    told = next((i for i in reversed(out) if i.text not in _PARTS), None)
    if _goes_on_too(items, end):
        return None  # "fed Ink, wait, Mole too"
    if acts and told is not None and any(_verb(i) for i in out):
        if not _verb(told) or not _same_verb(told, items[end]):
            return None
        end += 1  # "Mole ate, sorry no, Anvil ate"
    last = next((n for n in range(len(out) - 1, -1, -1) if out[n].cat == "S"), None)
    if last is None:
        return None
    first = last
    while first >= 2 and out[first - 2].cat == "S" and _joins(out[first - 1]):
        first -= 2
    old = [i for i in out[first : last + 1] if i.cat == "S"]
    _trim(out)
    if len(new) < len(old):
        doubt = Ref(
            tuple(t for i in (*new, *old) for t in i.val.tags),
            sure=False,
            words=new[0].text,
            doubt="which_taken_back",
        )
        new = [Item("S", old[0].i, new[-1].j, new[0].text, val=doubt)]
    out[first : last + 1] = new
    return end


def _same_verb(one: Item, other: Item) -> bool:
    return one.text == other.text or one.senses.kinds == other.senses.kinds


def _goes_on_too(items: Sequence[Item], at: int) -> bool:
    """ "Ink ate, sorry, Mole ate too": one more, and nothing taken back."""
    return any("same" in item.senses for item in items[at : at + 3])


def _list_from(items: Sequence[Item], at: int) -> tuple[list[Item], int]:
    found, place = [items[at]], at + 1
    while place + 1 < len(items) and _joins(items[place]) and items[place + 1].cat == "S":
        found.append(items[place + 1])
        place += 2
    return found, place


def _joins(item: Item) -> bool:
    return item.text in ",+&" or "and" in item.senses


def _trim(out: list[Item]) -> None:
    while out and (out[-1].text in {",", "–", "-", "(", "."} or out[-1].text in HARD):
        out.pop()


def _drop_prey_between(out: list[Item], place: int, items: Sequence[Item], at: int) -> None:
    """ "2 crickets, sorry, 3 crickets": the prey is said once."""
    if any(_prey(i) for i in items[at + 1 : at + 4]):
        del out[place + 1 :]


def _number(item: Item) -> bool:
    return item.cat == "N"


def _day(item: Item) -> bool:
    return item.cat == "D"


def _amount(item: Item) -> bool:
    return item.cat == "A"


def _amount_or_figure(item: Item) -> bool:
    """ "weighed 8.2, no sorry, 8.4 g": the figure taken back has not got its unit."""
    return item.cat == "A" or (item.cat == "U" and _FIGURE.fullmatch(item.text) is not None)


_FIGURE: Final = re.compile(r"\d{1,5}[.,]\d{1,3}")


def _prey(item: Item) -> bool:
    return "prey" in item.senses


def _verb(item: Item) -> bool:
    return bool(item.senses.verbs)
