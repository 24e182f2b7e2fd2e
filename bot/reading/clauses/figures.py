"""Figures with a point and no unit: "weighed Ink 18.4"."""

from __future__ import annotations

import re
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.items.item import Item, Ref
from bot.terms import Kind

_DECIMAL: Final = re.compile(r"\d{1,6}[.,]\d{1,3}")
#: What a clause measures, by its words.
MEASURES: Final = frozenset({"weight", "span", "carapace"})


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that was found where a number may stand."""

    value: Decimal
    doubt: str | None = None
    high: int | None = None
    ordinal: bool = False


def bare_number(item: Item) -> Decimal | None:
    """The figure with a point that a word without a unit is: "14.5"."""
    plain = item.cat == "U" and _DECIMAL.fullmatch(item.text) is not None
    return Decimal(item.text.replace(",", ".")) if plain else None


def measures(frame: Frame) -> bool:
    """Whether a clause tells of a size or weight, whether or not it says one."""
    return bool(frame.flags & MEASURES) or Kind.MEASURED in kinds(frame)


def goes_on_measuring(frame: Frame, before: Frame) -> None:
    """ "weighed Ink 18.4 and Mole 28.9", "carapaces: Ink 22 mm, Mole 25 mm": what the next one measures."""
    if frame.amounts and not (frame.verbs or frame.meals or frame.flags & MEASURES):
        lengths = all(amount.dimension == "length" for _, amount in frame.amounts)
        frame.flags |= before.flags & {"carapace"} if lengths and frame.ref_at else set()
    figures = frame.loose or any(bare_number(item) is not None for _, item in frame.unknown)
    before.flags |= _sized(before) if figures else set()
    of_another = frame.flags & MEASURES and not frame.flags & before.flags & MEASURES
    if measures(before) and figures and not (frame.verbs or frame.meals or frame.amounts or of_another):
        frame.flags |= before.flags & MEASURES
        frame.verbs, frame.inherited = before.verbs, True
        count_figures(frame)


def _sized(frame: Frame) -> set[str]:
    """ "Ink 31 g": what a clause of nothing but an animal and its size measures."""
    weighs = all(Kind.MEASURED in item.senses.kinds for _, item in frame.verbs)
    only = len(frame.refs) == len(frame.amounts) == 1 and weighs and not (frame.meals or frame.nouns)
    sort = frame.amounts[0][1].dimension if only and len(frame.refs[0].tags) == 1 else ""
    own = frame.flags & MEASURES
    return {_MEASURED_AS[sort]} if sort in _MEASURED_AS and frame.ref_at and not own else set()


_MEASURED_AS: Final = {"weight": "weight", "length": "span"}


def each_its_own(frames: list[Frame]) -> None:
    """ "weighed Ink and Biscuit, 33 g and 28.5 g": as many figures as animals are theirs in that order."""
    for place in range(len(frames) - 1, -1, -1):
        frame = frames[place]
        if len(frame.refs) > 1 and _one_for_each(frame):
            frames[place : place + 1] = [
                _of_one(frame, ref, amount) for ref, amount in zip(frame.refs, frame.amounts, strict=True)
            ]


def _one_for_each(frame: Frame) -> bool:
    sorts = {amount.dimension for _, amount in frame.amounts}
    plain = not (frame.meals or "each" in frame.flags or {"span", "carapace"} <= frame.flags)
    plain = plain and len(frame.amounts) == len(frame.refs)
    one_each = all(ref.sure and len(ref.tags) == 1 for ref in frame.refs)
    return plain and one_each and len(sorts) == 1 and sorts <= {"length", "weight"} and measures(frame)


def _of_one(frame: Frame, ref: Ref, amount: tuple[int, Any]) -> Frame:
    one = copy(frame)
    one.refs = one.subjects = [ref]
    one.amounts = [amount]
    return one


def headed_by_measure(heading: Frame, frame: Frame) -> None:
    """ "weights today: Ink 19.4, Mole 15.1": what the first figure below it measures; the rest go on."""
    says_more = heading.refs or heading.meals or heading.loose or heading.amounts
    heads = heading.idle or (kinds(heading) == {Kind.MEASURED} and not says_more)  # "weighed: Ink 19.4, …"
    if heading.clause.titled and heads and frame.ref_at and not (frame.verbs or frame.meals):
        frame.flags |= heading.flags & MEASURES
        count_figures(frame)


def count_figures(frame: Frame) -> None:
    """Makes numbers of the figures of a clause that measures."""
    if frame.amounts or frame.meals or not measures(frame):
        return
    figures = [(entry, figure) for entry in frame.unknown if (figure := bare_number(entry[1])) is not None]
    frame.loose += [Figure(figure) for _, figure in figures]
    frame.unknown = [entry for entry in frame.unknown if all(entry is not other for other, _ in figures)]
