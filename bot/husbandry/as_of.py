"""What a specimen was at each entry of its journal, by its card and what was entered up to that day."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date

from bot.husbandry.animal import Animal
from bot.husbandry.state import SpecimenState, advance
from bot.terms import Entry, Specimen, Stage
from bot.terms.as_of import AsOf

#: What the keeper said of an animal's stage, each with the day from which it holds, in the order told.
StagesSaid = Sequence[tuple[date, Stage]]


def as_of_each(
    card: Specimen, start: SpecimenState, said: StagesSaid, entries: Iterable[Entry]
) -> Iterator[AsOf]:
    """What the specimen was at each of its entries, which are given in journal order.

    ``start`` is what it came as. The stage is that of the size measured by that day, or the keeper's word of
    that day where none was; of the days before either it is not known.
    """
    state = start
    for entry in entries:
        before = state.lot_size
        state = advance(state, entry)
        yield AsOf(sex=state.sex, stage=stage_on(card, state, said, entry.day), count=before)


def stage_on(card: Specimen, state: SpecimenState, said: StagesSaid, day: date) -> Stage | None:
    """The stage on a day, by the state at its end."""
    if state.matured_on is not None:
        return Stage.MATURE_MALE
    words = [stage for told_on, stage in said if told_on <= day]
    measured = state.span_on is not None and state.span_on <= day
    if not words and not measured:
        return None
    then = replace(card, stage=words[-1] if words else Stage.JUVENILE, span_cm=None)
    return Animal(then, replace(state, stage=None, span_cm=state.span_cm if measured else None)).stage
