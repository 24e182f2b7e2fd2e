"""A unit said once for several figures: "Ink 9.4, Mole 5.1 (all cm)", "weighed Ink 9.4 g, Mole 5.1"."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Final

from bot.reading.amounts.amounts import AmountSpan
from bot.reading.amounts.grammar import amount_grammar
from bot.reading.clauses.clause_model import SENTENCE
from bot.reading.clauses.figures import MEASURES, bare_number, measures
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.same_unit import of_that_unit
from bot.reading.items.item import Item

_MEASURES_OF: Final = {"length": frozenset({"span", "carapace"}), "weight": frozenset({"weight"})}
_OF_AN_ANIMAL: Final = frozenset(_MEASURES_OF)


def unit_behind_all(frames: Sequence[Frame]) -> None:
    """Gives the figures of a list the unit that stands behind the last of them, or at it."""
    for frame, nxt in reversed(list(pairwise(frames))):
        amount = next((a for _, a in nxt.amounts if a.dimension in _OF_AN_ANIMAL and a.unit), None)
        if amount is not None and nxt.clause.sep != SENTENCE:
            _measure(frame, amount)
    for frame, nxt in pairwise(frames):
        sizes = [a for _, a in frame.amounts if a.dimension in _OF_AN_ANIMAL and a.unit]
        if len(sizes) == 1 and nxt.clause.sep != SENTENCE and measures(frame) and not frame.meals:
            _measure(nxt, sizes[0])  # "Ink weighed 31 grams, and Biscuit weighed 27.5"
    unit = _unit_word(frames[-1]) if frames else None
    if unit is None:
        return
    strange, amount = unit
    listed = [f for f in frames if f.ref_at and (_figure(f) is not None)]
    if len(listed) > 1 and measures(listed[0]) and all(f.clause.sep != SENTENCE for f in listed[1:]):
        frames[-1].unknown = [entry for entry in frames[-1].unknown if entry[1] is not strange]
        for frame in listed:
            _measure(frame, amount)


def _measure(frame: Frame, like: AmountSpan) -> None:
    """Makes an amount of the one figure of a clause, if it has none yet."""
    figure = _figure(frame)
    amount = of_that_unit(like, figure) if figure is not None else None
    if amount is None or not (measures(frame) and frame.ref_at):
        return
    if frame.flags & MEASURES and not frame.flags & _MEASURES_OF[like.dimension]:
        return  # "Ink weighed 31 g, Biscuit has a span of 14"
    frame.amounts = [(0, amount)]
    frame.loose = []
    frame.unknown = [entry for entry in frame.unknown if bare_number(entry[1]) is None]


def _figure(frame: Frame) -> Decimal | None:
    if frame.amounts or frame.meals:
        return None
    figures = [Decimal(n.value) for n in frame.loose if n.value is not None and not n.doubt]
    figures += [number for _, item in frame.unknown if (number := bare_number(item)) is not None]
    return figures[0] if len(figures) == 1 else None


def _unit_word(frame: Frame) -> tuple[Item, AmountSpan] | None:
    """ "(all cm)", "in grams": the last word, where it is a unit of lengths or weights."""
    item = frame.clause.items[-1] if frame.clause.items else None
    if item is None or item.cat != "U":
        return None
    unit = amount_grammar("en").units.get(item.text)
    if unit is None or unit.dimension not in _OF_AN_ANIMAL or unit.factor is None:
        return None
    return item, AmountSpan(0, 0, unit.dimension, Decimal(0), None, unit.unit)
