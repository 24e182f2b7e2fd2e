"""Figures and letters that may mean something else than an entry has: checks as in ``misgivings``."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.drafts import Doubt, Draft
from bot.reading.frames import Frame
from bot.reading.model import About


def another_time_of_day(draft: Draft, frame: Frame) -> Doubt | None:
    """ "temps 24.5 day 21 night": a second figure, which is that of another time of the day."""
    pairs = pairwise(frame.clause.items)
    figures = [a.text for a, b in pairs if a.cat in "NU" and a.text[0].isdigit() and b.text in _TIMES_OF_DAY]
    return Doubt(About.AMOUNT, "two_values", figures[0]) if figures else None


_TIMES_OF_DAY: Final = frozenset({"day", "night", "nite", "days", "nights", "daytime", "nighttime"})


def number_between(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed A1 2 A4": how many the first got, or "to"?"""
    items = frame.clause.items
    trios = zip(items, items[1:], items[2:], strict=False)
    said = [n.text for a, n, b in trios if a.cat == b.cat == "S" and n.cat == "N" and n.val in frame.loose]
    return Doubt(About.AMOUNT, "number_unexplained", said[0]) if said else None


def more_or_fewer_than(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink >5 crix": a bound, and no number."""
    pairs = pairwise(frame.clause.items)
    said = [n.text for mark, n in pairs if mark.text in _BOUNDS and n.cat == "N" and mark.j == n.i]
    return Doubt(About.AMOUNT, "how_many", said[0]) if said else None


_BOUNDS: Final = frozenset("<>")


def some_uneaten(draft: Draft, frame: Frame) -> Doubt | None:
    """ "all of D got a locust 1 uneaten": a number of the prey told before it, or of the animals."""
    items = frame.clause.items
    at = next((n for n, i in enumerate(items) if "prey" in i.senses), len(items))
    behind = pairwise(items[at + 1 :])
    some = [a.text for a, b in behind if a.cat == "N" and "uneaten" in b.senses.acts]
    return Doubt(About.AMOUNT, "part", some[0]) if some else None


def place_of_a_letter(draft: Draft, frame: Frame) -> Doubt | None:
    """ "humidity b 80": a letter that may be a shelf's, and no word."""
    letters = [i.text for _, i in frame.unknown if len(i.text) == 1 and i.text.isalpha()]
    return Doubt(About.SPECIMEN, "unknown_name", letters[0]) if letters and not frame.ref_at else None
