"""Verbs that are denied: what their denial tells, or that it tells nothing."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.around_verbs import words_before
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind, SacEvent


def as_denied(frame: Frame, group: Group, at: int) -> Kind | None:
    """A verb's kind, turned round where it is denied; ``None`` where it then tells nothing."""
    kind = group.kind
    before = words_before(frame, at) if group.base else _since_so_i(words_before(frame, at))
    no_longer = kind is Kind.FED and not group.keeper and any("nomore" in i.senses for i in before)
    denied = no_longer or any("neg" in i.senses and "verb" not in i.senses for i in before)
    denied = denied or _no_food(before) or _by_none(before, keeper=group.keeper)
    if kind is Kind.SEALED and ("nomore" in frame.flags and (denied or _no_longer(frame))):
        return Kind.OPENED
    no_meal = _as_a_rule(frame, at, before) or _so_long_without(frame, at, before) or _still_full(frame, at)
    if no_meal or (kind is Kind.PREMOLT and "nomore" in frame.flags):
        return None
    lasts = kind in _LASTING or (kind is Kind.SAC and group.event is SacEvent.LAID)
    if lasts and "still" in frame.flags and not denied:
        return Kind.CHECKED
    if kind is Kind.FED and not frame.inherited and _none_of_it(frame, at):
        return None if group.keeper else Kind.REFUSED
    denied = denied or (kind is Kind.FED and _denied_there(frame, group))
    if kind is Kind.FED and "none served" in frame.flags and not (frame.meals or denied):
        return None  # "fed Ink no crickets"
    below = _denied_below(frame, kind)
    denied = denied or below  # "not molted: Ink"
    if not denied:
        none_of_it = kind not in FEEDING and bool(before) and "none_of" in before[-1].senses
        return None if none_of_it else kind  # "no water for Ink"
    if kind is Kind.FED and not group.keeper:
        own = frame.clause.items[at].text if not frame.inherited else ""
        whom = any(i.cat == "S" for i in frame.clause.items[at + 1 : at + 2])
        if own == "feed" and (whom or any("self" in i.senses for i in before)):
            return None  # "so I won't feed him", "won't feed Ink"
        gets = own == "get" or group.act == "get"  # "didn't get any", "hat keins bekommen"
        return None if gets and "declined" not in frame.flags else Kind.REFUSED
    return None


def _as_a_rule(frame: Frame, at: int, before: Sequence[Item]) -> bool:
    """ "she never eats in the morning": what she does as a rule, and no meal that she left."""
    own = not frame.inherited and frame.clause.items[at].text in _IN_GENERAL
    return own and any(item.text in _NEVER for item in before)


def _so_long_without(frame: Frame, at: int, before: Sequence[Item]) -> bool:
    """ "gave Ink a week off food": what the keeper means to do, and nothing that she refused."""
    off = not frame.inherited and frame.clause.items[at].text in _OFF_FOOD
    return off and bool(before) and ("dur" in before[-1].senses or before[-1].text in _OF_TIME)


def _still_full(frame: Frame, at: int) -> bool:
    """ "watered Ink, Mole's was still full so left it": a dish that needs nothing, and no meal."""
    left = not frame.inherited and frame.clause.items[at].text in _LEFT_IT and not frame.meals
    return left and any(item.text in _FULL for item in frame.clause.items[:at])


_LEFT_IT: Final = rule_words("left_it")
_FULL: Final = rule_words("needs_no_water")
_OFF_FOOD: Final = rule_words("off_her_food")
_OF_TIME: Final = rule_words("one_of_time")
_IN_GENERAL: Final = rule_words("in_general")
_NEVER: Final = rule_words("never")


#: What is so for a while: where it still is, nothing began today.
_LASTING: Final = frozenset({Kind.SEALED, Kind.OPENED, Kind.PREMOLT})


def _denied_there(frame: Frame, group: Group) -> bool:
    """ "Ink ate a roach, Anvil not her cricket": a denial beside a meal, of the verb told before.

    After "fed Ink" only what stands for the very verb denies: "Ink gefüttert, Sunny ihre Grille nicht".
    """
    if not (frame.inherited and frame.meals):
        return False
    if group.keeper or group.act in _GIVEN:
        return "elided" in frame.flags
    return any("neg" in i.senses and {"fill", "none_of"}.isdisjoint(i.senses) for i in frame.clause.items)


def _denied_below(frame: Frame, kind: Kind | None) -> bool:
    """ "not molted: Ink", "ate: Ink, Mole not"."""
    if not frame.inherited or "headed" not in frame.flags:
        return False
    own = any("neg" in i.senses and "elided" in i.senses for i in frame.clause.items)
    return (own and kind not in _ASKED_BELOW - {Kind.FED}) or (
        "headed not" in frame.flags and kind not in _ASKED_BELOW
    )


#: What a heading that denies leaves open: "not sealed: Anvil" may be open, or never was closed.
_ASKED_BELOW: Final = frozenset({Kind.FED, Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.PAIRED})
#: What an animal is given, and may have eaten or not.
_GIVEN: Final = frozenset({"get", "give"})


def _since_so_i(before: Sequence[Item]) -> Sequence[Item]:
    """ "didn't want it so I took it out": what the keeper then did, which the "didn't" is not about."""
    pairs = [n for n, (a, b) in enumerate(pairwise(before)) if "so" in a.senses and "self" in b.senses]
    return before[pairs[-1] + 2 :] if pairs else before


def _by_none(before: Sequence[Item], *, keeper: bool) -> bool:
    """ "shelf C: none ate", "heute nix gefüttert": for nobody or nothing, right before the verb."""
    if any("neg" in a.senses and "none" in a.senses.acts and "of" in b.senses for a, b in pairwise(before)):
        return True  # "ninguna de las GBB comió"
    last = before[-1] if before else None
    none = last is not None and (last.text in _NONE or (keeper and "none" in last.senses.acts))
    return none and last is not None and "neg" in last.senses


_NONE: Final = rule_words("none")


def _no_food(before: Sequence[Item]) -> bool:
    """ "no food taken"."""
    return any(
        "no" in a.senses and ("prey" in b.senses or b.senses.part == "food") for a, b in pairwise(before)
    )


def _none_of_it(frame: Frame, at: int) -> bool:
    """ "ate none", "fed her nothing": the denial behind the verb, whom it was done to, or when."""
    whom = (i for i in frame.clause.items[at + 1 :] if i.cat not in "SDP" and "pron" not in i.senses)
    behind = [i for i in (next(whom, None),) if i is not None]
    none_served = "none served" in frame.flags and any("none_of" in i.senses for i in behind)
    return none_served or any("neg" in i.senses and "did" not in i.senses for i in behind)


def _no_longer(frame: Frame) -> bool:
    if {"headed", "nomore"} <= frame.flags and frame.inherited:
        return True  # "no longer sealed: Ink"
    return any("nomore" in i.senses and "neg" not in i.senses for i in frame.clause.items)
