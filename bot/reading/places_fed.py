"""A place and one of those who live there, in one clause: "fed shelf A, Ink slowly"."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.frames import Frame


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


def _lives_there(prev: Frame, frame: Frame) -> bool:
    place = prev.refs[-1]
    return place.how == "place" and {tag for ref in frame.refs for tag in ref.tags} < set(place.tags)


#: Small words that set an animal apart from its group, "fed shelf A, Ink only", and those of no manner.
_SETS_APART: Final = frozenset({"only", "just"})
_OF_NO_MANNER: Final = _SETS_APART | {"too", "also", "again", "now", "please", "today", "instead"}
