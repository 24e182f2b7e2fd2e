"""What is said instead, behind words that take back: a meal for a meal, "2 crickets no 3 crickets".

An amount takes the place of the amount right before it, one that is excepted that of another, work the place
of work on the same animal. Where a bare "no" stands between two animals, which of them is meant is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from bot.reading.corrections.words_of_fixing import is_no, past_it_was, takes_back
from bot.reading.items.item import Item, Ref, begins_behind, ends_sentence, is_mark
from bot.reading.items.of_one_sort import same, without_marks
from bot.reading.words.marks import HARD
from bot.reading.words.rule_words import rule_words


def instead_of_same(
    out: Sequence[Item], items: Sequence[Item], at: int, cue: Sequence[Item]
) -> tuple[list[Item], int] | None:
    """The items with what is said instead in its place, and the next item; ``None`` where none fits."""
    at = past_it_was(items, at)
    if at >= len(items) or _is_doubted(items, at):
        return None
    meal = _meal_from(items, at)
    if takes_back(cue) and (meal is not None or items[at].cat == "N") and _had_none(out):
        return without_marks(list(out))[:-1], at
    if meal is not None:
        put = _another_meal(out, meal, cue)
        return _for_another(*put, items) if put is not None else None
    if items[at].cat in "AD":
        return _another_value(out, items, at)
    if takes_back(cue):
        return _another_excepted(out, items, at) or _another_work(out, items, at)
    return None


def _had_none(out: Sequence[Item]) -> bool:
    """ "Sunny none no wait one": nothing, for which something is said instead."""
    said = without_marks(list(out))
    return bool(said) and "none" in said[-1].senses.acts


def _is_doubted(items: Sequence[Item], at: int) -> bool:
    """ "a locust no a roach no I don't know": none of them is meant for sure."""
    end = next((n for n in range(at, len(items)) if items[n].text in HARD), len(items))
    return any("hedge" in item.senses for item in items[at:end])


@dataclass
class _Meal:
    """So much of a feeder, as "two small crickets", and where it stands."""

    start: int
    end: int
    amount: Item | None = None
    sizes: list[Item] = field(default_factory=list)
    prey: Item | None = None
    one: Item | None = None

    def of_the_same(self, other: _Meal) -> bool:
        return self.prey is None or other.prey is None or same(self.prey, other.prey)


def _meal_from(items: Sequence[Item], at: int) -> _Meal | None:
    """The meal that begins there; "a large one" is of the feeder that was named before."""
    meal = _Meal(at, at)
    if _counts(items[at]) and not (at + 1 < len(items) and items[at + 1].text in _ONES):
        meal.amount, at = items[at], at + 1
    while at < len(items) and "size" in items[at].senses and "prey" not in items[at].senses:
        meal.sizes.append(items[at])
        at += 1
    if at < len(items) and "prey" in items[at].senses:
        meal.prey, meal.end = items[at], at + 1
        return meal
    if meal.sizes and at < len(items) and items[at].text in _ONES:
        meal.one, meal.end = items[at], at + 1
        return meal
    return None


_ONES: Final = rule_words("one_or_ones")


def _last_meal(out: Sequence[Item]) -> _Meal | None:
    last = next((n for n in range(len(out) - 1, -1, -1) if "prey" in out[n].senses), None)
    if last is None:
        return None
    start = last
    while start and "size" in out[start - 1].senses and "prey" not in out[start - 1].senses:
        start -= 1
    meal = _Meal(start, last + 1, None, list(out[start:last]), out[last])
    if start and _counts(out[start - 1]):
        meal.amount, meal.start = out[start - 1], start - 1
    return meal


def _counts(item: Item) -> bool:
    return item.cat == "N" or "a" in item.senses


def _another_meal(out: Sequence[Item], meal: _Meal, cue: Sequence[Item]) -> tuple[list[Item], int] | None:
    """ "a cricket no a roach": a bare "no" only right between two that are counted."""
    before = without_marks(list(out))
    old = _last_meal(before)
    if old is None or any(item.cat == "M" and item.text in HARD for item in before[old.end :]):
        return None
    counted = meal.amount is not None and old.amount is not None and old.end == len(before)
    if not (takes_back(cue) or counted):
        return None
    if meal.amount is None and meal.one is None and not meal.sizes:
        return None
    kept = old.sizes if meal.of_the_same(old) else []
    amount = meal.amount if meal.amount is not None and meal.one is None else old.amount
    new = [amount, *(meal.sizes or kept), meal.prey or old.prey]
    put = [item for item in new if item is not None]
    return [*before[: old.start], *put, *before[old.end :]], meal.end


def _for_another(out: list[Item], at: int, items: Sequence[Item]) -> tuple[list[Item], int]:
    """ "fed Ink two crickets no wait three crickets for Mole": whoever the other meal is for got it."""
    whom = items[at + 1] if at + 1 < len(items) and not {"to", "for"}.isdisjoint(items[at].senses) else None
    begins = begins_behind(out, len(out), ends_sentence)
    named = [n for n in range(begins, len(out)) if out[n].cat == "S"]
    if whom is None or whom.cat != "S" or len(named) != 1:
        return out, at
    out[named[0]] = whom
    return out, at + 2


def _another_value(out: Sequence[Item], items: Sequence[Item], at: int) -> tuple[list[Item], int] | None:
    """ "eighty mils no hold on ninety mils", "on Monday no on Tuesday": right behind one of its sort."""
    before = without_marks(list(out))
    if not before:
        return None  # "…, make it two": only marks stand before what is put right
    old, new = before[-1], items[at]
    if old.cat != new.cat or (new.cat == "A" and old.val.dimension != new.val.dimension):
        return None
    before[-1] = new
    return before, at + 1


def _another_excepted(out: Sequence[Item], items: Sequence[Item], at: int) -> tuple[list[Item], int] | None:
    """ "everyone except Biscuit, sorry, except Saffron"."""
    before = without_marks(list(out))
    if len(before) < 3 or before[-1].cat != "S" or not _EXCEPTS & before[-2].senses.keys():
        return None
    at += items[at].text in _NOT or not _EXCEPTS.isdisjoint(items[at].senses)
    if at >= len(items) or items[at].cat != "S":
        return None
    if at + 1 < len(items) and (items[at + 1].cat == "S" or items[at + 1].senses.verbs):
        return None
    before[-1] = items[at]
    return before, at + 1


_NOT: Final = rule_words("not")
_EXCEPTS: Final = frozenset({"except", "but"})


def _another_work(out: Sequence[Item], items: Sequence[Item], at: int) -> tuple[list[Item], int] | None:
    """ "watered Ink no wait cleaned Ink", "…, scratch that, I cleaned her": what was done instead."""
    before = without_marks(list(out))
    verbs = [n for n, item in enumerate(before) if item.senses.verbs]
    at += "self" in items[at].senses
    whom = at + 1
    if len(verbs) != 1 or before[-1].cat != "S" or whom >= len(items) or verbs[0] != len(before) - 2:
        return None
    again = same(items[whom], before[-1]) or "pron" in items[whom].senses
    done, was = items[at], before[-2]
    if not again or not _by_the_keeper(done) or not _by_the_keeper(was) or same(done, was):
        return None
    before[-2] = done
    return before, whom + 1


def _by_the_keeper(item: Item) -> bool:
    return bool(item.senses.verbs) and all(verb.group.keeper for verb in item.senses.verbs)


def either_of_two(
    out: Sequence[Item], items: Sequence[Item], at: int, cue: Sequence[Item]
) -> tuple[list[Item], int] | None:
    """ "Dot no Dottie ate": whether the "no" takes Dot back or is of her is asked."""
    begins = begins_behind(out, len(out), is_mark)
    opens = begins == 0 or out[begins - 1].text in HARD
    named = [n for n in range(begins, len(out)) if out[n].cat == "S"]
    bare = len(cue) == 1 and is_no(cue[0]) and not any("yes" in item.senses for item in items)
    if not (bare and opens and len(named) == 1 and at < len(items) and items[at].cat == "S"):
        return None
    told = [item for item in (*out[begins:], *items[at:]) if item.senses.verbs]
    behind = items[at + 1] if at + 1 < len(items) else None
    acts = len(told) == 1 and (behind is None or bool(behind.senses.verbs) or behind.text in HARD)
    spared = named[0] == len(out) - 1 > 0 and not _EXCEPTS.isdisjoint(out[-2].senses)
    if not (acts or spared):
        return None
    old, new = out[named[0]], items[at]
    if not (old.val.sure and new.val.sure) or same(old, new):
        return None
    doubt = Ref((*old.val.tags, *new.val.tags), sure=False, words=new.text, doubt="which_taken_back")
    either = Item("S", old.i, old.j, old.text, val=doubt)
    return [*out[: named[0]], either, *out[named[0] + 1 :]], at + 1
