"""Some of a group that a sentence begins with: "von den Slings haben 3 gefressen", "auf A hat eine …"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import does_itself
from bot.reading.whom.rows_run_on import behind_small_words
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What leads to a group of which some are told behind it.
LEADS: Final = frozenset({"of", "from", "on", "with"})


def some_of_a_group(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with a group in doubt, where a number right before the verb says how many of it did so.

    A number of prey stands with its prey, or with "each"; where it is all of them, nothing is in doubt.
    """
    out = list(items)
    for at in range(1, len(items) - 2):
        group = items[at]
        led = group.cat == "S" and len(group.val.tags) > 1 and not LEADS.isdisjoint(items[at - 1].senses)
        number = _number_of_those_who_act(items, at + 1) if led else None
        if number is None or number == len(group.val.tags):
            continue
        out[at] = _some_of(group)
    return out


def so_many_of_a_group(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "3 of 5 slings ate", "3 out of 5": where they are fewer than there are, which of them is asked."""
    out = list(items)
    for at in range(len(items) - 1, 1, -1):
        several = len(items[at].val.tags) if items[at].cat == "S" else 0
        number = _counted_before(items, at) if several > 1 else None
        if number is not None and 0 < number <= several:
            out[at - 2 : at + 1] = [_some_of(items[at]) if number < several else items[at]]
    return out


def _counted_before(items: Sequence[Item], at: int) -> int | None:
    number = items[at - 2] if items[at - 1].text.rpartition(" ")[2] in _OF else None
    if number is None or number.cat != "N" or number.val.ordinal or number.val.value is None:
        return None
    return int(number.val.value)


_OF: Final = rule_words("of")


def pieces_of_a_lot(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items without "Stück" in "3 Stück aus der Kommune verkauft": so many of a lot."""
    if any("prey" in item.senses for item in items) or not any(map(_is_gone, items)):
        return items
    out = list(items)
    for at in range(len(items) - 2, 0, -1):
        number, piece, nxt = items[at - 1 : at + 2]
        if number.cat == "N" and "ones" in piece.senses and (_is_gone(nxt) or "from" in nxt.senses):
            out.pop(at)
    return out


def _is_gone(item: Item) -> bool:
    return not item.senses.kinds.isdisjoint({Kind.LEFT, Kind.DIED})


def those_of_a_group(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items without a group of which those named behind it did so: "von den Slings hat nur B2 …"."""
    for at in range(1, len(items) - 1):
        group = items[at]
        if group.cat != "S" or len(group.val.tags) < 2 or "of" not in items[at - 1].senses:
            continue
        if at > 1 and not ends_sentence(items[at - 2]):
            continue
        end = at + 1
        while end < len(items) and (_is_between(items[end]) or items[end].cat == "D"):
            end += 1
        if end == at + 1 or end == len(items):
            continue
        some, only = items[end], items[end - 1].text in _ONLY
        if some.cat == "S" and some.val.tags and set(some.val.tags) < set(group.val.tags):
            return [*items[: at - 1], *items[at + 1 :]]
        if only and "pron" in some.senses:
            return [*items[:at], _some_of(group), *items[at + 1 :]]
    return items


_ONLY: Final = rule_words("only")


def _is_between(item: Item) -> bool:
    """A verb of the animals or a small word between a group and those of it that are meant."""
    return item.cat == "W" and (
        does_itself(item) or "did" in item.senses or item.text in _ONLY or "fill" in item.senses
    )


def _some_of(group: Item) -> Item:
    some = Ref(group.val.tags, sure=False, how="group", words=group.text, doubt="some_of_several")
    some.plural = some.group = True
    return Item("S", group.i, group.j, group.text, val=some)


def _number_of_those_who_act(items: Sequence[Item], at: int) -> int | None:
    """How many a number or a "one" right before what animals do by themselves says they are."""
    at = behind_small_words(items, at)
    if at + 1 >= len(items) or not any(does_itself(verb) for verb in items[at + 1 :][:2]):
        return None
    if not (does_itself(items[at + 1]) or "did" in items[at + 1].senses):
        return None
    if "one" in items[at].senses:
        return 1
    counts = items[at].cat == "N" and not items[at].val.ordinal and items[at].val.value is not None
    return int(items[at].val.value) if counts else None
