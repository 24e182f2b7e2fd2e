"""Animals that are each watered in a way of their own: "D by misting and the genics in the dish"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.items.item import Item
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def watered_likewise(told: Sequence[Frame], frame: Frame) -> list[tuple[int, Item]] | None:
    """The work told of before, where a clause adds for others only that they had it in the dish."""
    if frame.verbs or frame.meals or not (told and _says_how(told[-1]) and _in_the_dish(frame)):
        return None  # "watered Ink and Biscuit in the dish" is one list
    before = told[-1]
    if kinds(before) != {Kind.WATERED} or not before.flags.isdisjoint(_NOT_DONE) or not before.verbs:
        return None
    at, work = before.verbs[0]
    return [(at, said_as(work, "watered"))]


def _says_how(frame: Frame) -> bool:
    ways = (verb.group.how for _, item in frame.verbs for verb in item.senses.verbs)
    return "dish" in frame.nouns or any(how is not None for how in ways)


def _in_the_dish(frame: Frame) -> bool:
    """Whether a clause begins with animals and says no more of them: no "found Ink in the dish"."""
    items = [i for i in frame.clause.items if i.cat not in "MD" and not {"the", "and"} & i.senses.keys()]
    whom = list(takewhile(lambda i: i.cat == "S", items))
    rest = items[len(whom) :]
    leads = bool(whom) and bool(rest) and rest[0].text in _LEADS_TO_THE_DISH
    return leads and "dish" in frame.nouns and all("noun" in i.senses for i in rest[1:])


_LEADS_TO_THE_DISH: Final = rule_words("leads_to_the_dish")
_NOT_DONE: Final = frozenset({"neg", "undone", "future"})
