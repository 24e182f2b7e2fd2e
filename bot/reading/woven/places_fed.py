"""A place and one of those who live there, in one clause: "fed shelf A, Ink slowly"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Ref
from bot.reading.words.rule_words import rule_words


def how_one_of_them_did(prev: Frame, frame: Frame) -> bool:
    """ "fed shelf A, Ink slowly": all of it were fed, and how one of them ate is only said beside."""
    last = frame.clause.items[-1]
    of_manner = "fill" in last.senses and last.cat == "W" and last.text not in _OF_NO_MANNER
    return of_manner and len(frame.refs) == 1 and _lives_there(prev, frame)


def of_the_place_fed(prev: Frame, frame: Frame) -> bool:
    """ "fed shelf A and Ink", where Ink lives there: all of it, or the one alone?"""
    done_to = any("verb" in a.senses and b.cat == "S" for a, b in pairwise(prev.clause.items))
    only = any(item.text in _SETS_APART for item in frame.clause.items)
    return done_to and not (only or prev.clause.titled) and _lives_there(prev, frame)


def got_less(prev: Frame, frame: Frame) -> bool:
    """ "watered all of C, Mole only a corner": one of them apart, for whom the same was done in part."""
    if len(prev.refs) != 1 or not prev.refs[0].plural:
        return False
    items = frame.clause.items
    named = next((at for at, item in enumerate(items) if item.cat == "S"), len(items))
    behind = items[named + 1 :]
    set_apart = bool(behind) and behind[0].text in _SETS_APART
    return set_apart and any("noun" in item.senses for item in behind[1:]) and _lives_there(prev, frame)


def one_of_them_too(prev: Frame, frame: Frame) -> bool:
    """ "watered everyone on C, Mole too": whoever is of those named already was told of with them."""
    last = frame.clause.items[-1]
    told_of = {tag for ref in prev.refs for tag in ref.tags}
    hers = {tag for ref in frame.refs for tag in ref.tags}
    more = frame.verbs or frame.meals or frame.loose or frame.amounts or frame.groups or dated(frame)
    some = bool(hers) and hers < told_of
    return last.text in _AS_WELL and not more and len(prev.refs) == 1 and some


def of_all_or_some_alone(refs: Sequence[Ref]) -> bool:
    """ "fed everyone on C, only Mole", "watered everybody on C and Mole": all of a place, or those alone?"""
    first, others = refs[0], {tag for ref in refs[1:] if ref.how != "place" for tag in ref.tags}
    return first.how == "place" and first.everyone and bool(others) and others <= set(first.tags)


def _lives_there(prev: Frame, frame: Frame) -> bool:
    place = prev.refs[-1]
    return place.how == "place" and {tag for ref in frame.refs for tag in ref.tags} < set(place.tags)


_AS_WELL: Final = rule_words("as_well")
#: Small words that set an animal apart from its group, "fed shelf A, Ink only", and those of no manner.
_SETS_APART: Final = rule_words("only")
_OF_NO_MANNER: Final = _SETS_APART | rule_words("of_no_manner")
