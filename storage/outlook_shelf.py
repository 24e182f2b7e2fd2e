"""A shelf as forecasts look at it: of years of entries only what tells of molts and size."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time
from decimal import Decimal
from itertools import chain
from operator import itemgetter
from typing import Any, Final, NamedTuple

from sqlalchemy import ColumnElement, Select, bindparam, func, select

from bot.husbandry.outlook_record import (
    MEASURING_KINDS,
    MOLT_KINDS,
    OFFER_KINDS,
    SIGN_KINDS,
    Measure,
    OutlookRecord,
    ShortRecord,
    distinct_molts,
)
from bot.husbandry.state import SpecimenState
from bot.terms import Kind, Specimen
from storage import tables as t
from storage.facts import state_from
from storage.living_shelf import read_living
from storage.starts import starts_of
from storage.work import Work


def _noted(kinds: Iterable[Kind], *columns: ColumnElement[Any]) -> Select[Any]:
    """Columns of the live entries of some kinds of a shelf, animal after animal, each in the journal's order.

    By days alone SQLite would go through all entries of the shelf, to have them in that order.
    """
    return (
        select(t.entry.c.specimen_id, t.entry.c.day, *columns)
        .where(
            t.entry.c.shelf_id == bindparam("shelf"),
            t.entry.c.live,
            t.entry.c.kind.in_(sorted(kind.value for kind in kinds)),
        )
        .order_by(t.entry.c.specimen_id, t.entry.c.day, func.coalesce(t.entry.c.time, time.min), t.entry.c.id)
    )


_MOLTS: Final = _noted(MOLT_KINDS)
_SIGNS: Final = _noted(SIGN_KINDS, t.entry.c.kind)
_OFFERS: Final = _noted(OFFER_KINDS, t.entry.c.kind == Kind.REFUSED.value)
_MEASURES: Final = _noted(MEASURING_KINDS, t.entry.c.span_cm, t.entry.c.carapace_mm, t.entry.c.weight_g)
_WARMTH: Final = _noted([Kind.CLIMATE], t.entry.c.temp_c, t.entry.c.place).where(
    t.entry.c.temp_c.is_not(None)
)
_STATES: Final = (
    select(t.state.c.specimen_id, t.state.c.facts)
    .join_from(t.state, t.specimen, t.specimen.c.id == t.state.c.specimen_id)
    .where(t.specimen.c.shelf_id == bindparam("shelf"), ~t.specimen.c.void, t.specimen.c.gone_on.is_(None))
)


def read_for_outlooks(work: Work, shelf_id: int, *, on: date) -> Sequence[OutlookRecord]:
    """The living of a shelf, in its order, as they stood at the end of a day.

    Their entries are not read one by one, but where some are of a later day: what was so before those is
    worked out of all of them.
    """
    states = {
        row.specimen_id: state_from(row.facts)
        for row in work.connection.execute(_STATES, {"shelf": shelf_id})
    }
    if any(state.last_entry is not None and state.last_entry > on for state in states.values()):
        return [record.until(on) for record in read_living(work, shelf_id).records()]
    return _picked_out(work, shelf_id, states, on)


def _picked_out(
    work: Work, shelf_id: int, states: Mapping[int, SpecimenState], on: date
) -> list[ShortRecord]:
    living = {stored.id: stored.specimen for stored in work.shelves.specimens(shelf_id)}
    starts = starts_of(work.connection, living)
    chosen = {"shelf": shelf_id}
    molts: defaultdict[int, list[date]] = defaultdict(list)
    signs: defaultdict[int, list[tuple[date, Kind]]] = defaultdict(list)
    offers: defaultdict[int, list[tuple[date, bool]]] = defaultdict(list)
    measures: defaultdict[int, list[Measure]] = defaultdict(list)
    for number, day in work.connection.execute(_MOLTS, chosen):
        molts[number].append(day)
    for number, day, kind in work.connection.execute(_SIGNS, chosen):
        signs[number].append((day, Kind(kind)))
    for number, day, refused in work.connection.execute(_OFFERS, chosen):
        offers[number].append((day, refused))
    for number, *measured in work.connection.execute(_MEASURES, chosen):
        measures[number].append(Measure(*measured))
    warmth = _Warmth.read(work, shelf_id, on)
    return [
        ShortRecord(
            specimen=specimen,
            state=states[number],
            came=starts[number].lot_size,
            molt_days=distinct_molts(molts[number]),
            signs=signs[number],
            offers=offers[number],
            warmth=warmth.felt_by(number, specimen),
            measures=measures[number],
        )
        for number, specimen in living.items()
    ]


class _Warmth(NamedTuple):
    """Readings in °C, those of animals by their numbers and those of places; ``None`` is the whole room."""

    of_animals: Mapping[int, list[tuple[date, Decimal]]]
    of_places: Mapping[str | None, list[tuple[date, Decimal]]]

    @classmethod
    def read(cls, work: Work, shelf_id: int, on: date) -> _Warmth:
        """The readings of a shelf to the end of a day."""
        own: defaultdict[int, list[tuple[date, Decimal]]] = defaultdict(list)
        places: defaultdict[str | None, list[tuple[date, Decimal]]] = defaultdict(list)
        for number, day, temp_c, place in work.connection.execute(_WARMTH, {"shelf": shelf_id}):
            if number is not None:
                own[number].append((day, temp_c))
            elif day <= on:
                places[place].append((day, temp_c))
        return cls(own, places)

    def felt_by(self, number: int, specimen: Specimen) -> list[tuple[date, Decimal]]:
        """What was read of an animal, its place and the room, in the order of days."""
        around = [self.of_places.get(place, ()) for place in dict.fromkeys((None, specimen.place))]
        return sorted(chain(self.of_animals.get(number, ()), *around), key=itemgetter(0))
