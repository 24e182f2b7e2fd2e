"""What was meant put in the place of what was said: "fed Ink, no wait, Biscuit", "2, sorry, 3 crickets"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.correction_sorts import (
    PARTS,
    has_a_meal,
    is_amount,
    is_amount_or_figure,
    is_day,
    is_number,
    is_prey,
    is_verb,
)
from bot.reading.corrections.figures_put_right import decimal, in_that_unit
from bot.reading.items.item import Item, Ref, joins
from bot.reading.items.of_one_sort import without_marks
from bot.reading.words.marks import AND_MARKS


def put_in_its_place(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """Puts what was meant in the place of the last thing of its sort; the next item, if it can be done."""
    if at >= len(items):
        return None
    new = items[at]
    if new.cat == "S":
        return _replaced_prey_of(out, items, at) or _replaced_animals(out, items, at)
    if is_number(new) or decimal(new):
        new = in_that_unit(new, out)
    for sort in (is_number, is_day, is_amount, is_prey, is_verb):
        if sort(new):
            same = is_amount_or_figure if sort is is_amount else sort
            place = next(
                (n for n in range(len(out) - 1, -1, -1) if same(out[n]) or out[n].text == "\n"), None
            )
            if place is not None and same(out[place]):
                if sort is is_verb and any(i.cat == "S" for i in items[at:]):
                    return None
                if out[place].cat == new.cat == "A" and out[place].val.dimension != new.val.dimension:
                    return None  # "15 cm, wait, 20 g too"
                without_marks(out)
                out[place] = new
                if sort is is_number:
                    _drop_prey_between(out, place, items, at)
                return at + 1
            return None
    if "a" in new.senses and at + 1 < len(items) and is_prey(items[at + 1]):
        return put_in_its_place(out, items, at + 1)
    return None


def _replaced_prey_of(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    """ "Ink 1 locust, Mole 1 locust, sorry, Mole's was a cricket": what one of those named before had."""
    whose, behind = items[at], [i for i in items[at + 1 : at + 4] if not _AROUND_PREY & i.senses.keys()]
    if not whose.owns or not behind or not is_prey(behind[0]) or "did" not in items[at + 1].senses:
        return None
    named = next((n for n, i in enumerate(out) if i.cat == "S" and i.val.tags == whose.val.tags), None)
    had = (
        next((n for n in range(named + 1, len(out)) if is_prey(out[n])), None) if named is not None else None
    )
    if had is None or any(i.cat == "S" for i in out[(named or 0) + 1 : had]):
        return None
    out[had] = behind[0]
    without_marks(out)
    return items.index(behind[0], at) + 1


_AROUND_PREY: Final = frozenset({"did", "a", "the"})


def _replaced_animals(out: list[Item], items: Sequence[Item], at: int) -> int | None:
    last = next((n for n in range(len(out) - 1, -1, -1) if out[n].cat == "S"), None)
    if last is None:
        return None
    first = last
    while first >= 2 and out[first - 2].cat == "S" and joins(out[first - 1], AND_MARKS):
        first -= 2
    old = [i for i in out[first : last + 1] if i.cat == "S"]
    new, end = _list_from(items, at, old)
    acts = end < len(items) and ("verb" in items[end].senses or "neg" in items[end].senses)
    told = next((i for i in reversed(out) if i.text not in PARTS), None)
    own = has_a_meal(items, end + 1 if acts else end)
    if _goes_on_too(items, end) or (own and any(map(is_prey, out))):
        return None  # "fed Ink, wait, Mole too", "fed Ink a roach. Correction: Mole two roaches"
    if acts and told is not None and any(is_verb(i) for i in out):
        if not is_verb(told) or not _same_verb(told, items[end]):
            return None
        end += 1  # "Mole ate, sorry no, Anvil ate"
    without_marks(out)
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


def _list_from(items: Sequence[Item], at: int, old: Sequence[Item]) -> tuple[list[Item], int]:
    """The animals named from a place on; not the one taken back: "no, that was Biscuit, Saffron got one"."""
    before = {item.val.tags for item in old}
    found, place = [items[at]], at + 1
    while place + 1 < len(items) and joins(items[place], AND_MARKS) and items[place + 1].cat == "S":
        if items[at].val.tags not in before and items[place + 1].val.tags in before:
            break
        found.append(items[place + 1])
        place += 2
    return found, place


def _drop_prey_between(out: list[Item], place: int, items: Sequence[Item], at: int) -> None:
    """ "2 crickets, sorry, 3 crickets": the prey is said once."""
    if any(is_prey(i) for i in items[at + 1 : at + 4]):
        del out[place + 1 :]
