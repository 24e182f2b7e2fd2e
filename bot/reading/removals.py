"""Prey that the keeper takes back out: "took the roach back out of Ink's tub, never touched it"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.frames import Frame
from bot.reading.items import Item
from bot.reading.neighbours import acts_of, kinds, refuses
from bot.terms import Kind

_HANDS: Final = frozenset({"take", "get", "put", "have", "remove"})
_BARE: Final = frozenset({"take", "get", "remove", "pull"})


def takes_out(frame: Frame) -> bool:
    """ "took the roach back out of Ink's tub", "pulled Ink's locust": prey that the keeper removes."""
    items = frame.clause.items
    meal = next((n for n, i in enumerate(items) if "prey" in i.senses), None)
    if meal is None or not frame.refs or frame.inherited or "waste" in frame.nouns:
        return False
    by_her = any(i.cat == "S" and not i.owns for i in items[:meal]) or bool(frame.prons and not frame.ref_at)
    if by_her:
        return False
    acts = set().union(*(i.senses.acts for at, i in frame.verbs if at < meal))
    away = any("from" in i.senses or "away" in i.senses for i in items)
    bare = any(i.text in _BARE for i in items[:meal])  # "had to take the roach out"
    strange = bare or any(at < meal for at, _ in frame.unknown)
    return ("remove" in acts and bool(frame.ref_at)) or (away and (strange or bool(acts & _HANDS)))


def found_there(frame: Frame) -> bool:
    """ "found a roach under Ink's dish": prey that the keeper comes upon, and not what she ate."""
    items = frame.clause.items
    meal = next((n for n, i in enumerate(items) if "prey" in i.senses), 0)
    found = next((n for n, i in enumerate(items[:meal]) if _comes_upon(i)), None)
    if found is None or not frame.refs or frame.inherited or frame.verbs:
        return False
    return bool(frame.ref_at) and frame.ref_at[0] > meal


def _comes_upon(item: Item) -> bool:
    return "fill" in item.senses and item.senses["fill"].group.act == "find"


def taken_back_out(frames: Sequence[Frame]) -> None:
    """Marks prey taken out as refused, where it is said that she left it."""
    for frame, nxt in pairwise(frames):
        if _refuses_that(nxt) and takes_out(frame):
            frame.flags.add("declined")
    for frame in frames:
        if "uneaten" in acts_of(frame) and takes_out(frame):
            frame.flags.add("declined")


def _refuses_that(frame: Frame) -> bool:
    """A refusal told of the meal just named: "never touched it", "untouched"."""
    denied = "neg" in frame.flags and Kind.FED in kinds(frame)
    return not frame.ref_at and not frame.meals and (refuses(frame) or denied)
