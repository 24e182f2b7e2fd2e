"""Shelves: who may see one, who stands on it, and where."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date
from enum import StrEnum
from itertools import chain
from typing import Any, Final

from sqlalchemy import Connection, and_, bindparam, func, insert, or_, select

from bot.husbandry.watering import READING_DAYS, Air
from bot.round.model import OWN_INTERVALS, SpecimenFacts
from bot.terms import Kind, Specimen
from storage import tables as t
from storage.changes import shelf_of_change
from storage.dialect import AnyRow, new_row
from storage.errors import NotOnShelfError, StoreError
from storage.facts import facts_of, identity_of, start_of, state_from
from storage.keys import key_of
from storage.projection import NO_INTERVALS, Projection
from storage.records import Membership, Role, StoredSpecimen, Surroundings
from storage.rows import CARD_COLUMNS, SPECIMEN_COLUMNS, card_from, specimen_from
from storage.schedules import Schedules
from storage.types import exact, storable_words

#: What may be altered of a specimen besides what the journal tells.
ALTERABLE: Final = frozenset(
    {
        "name",
        "tag",
        "place",
        "species",
        "common",
        "aka",
        "habit",
        "stage",
        "sex",
        "position",
        *OWN_INTERVALS.values(),
    }
)
#: How far apart specimens stand in the order of the shelf, so that one may be put in between.
POSITION_STEP: Final = 1024
#: Readings of the air that are fetched at once: those of late, where there is one a day.
_AT_ONCE: Final = READING_DAYS + 2

_INSERT_SPECIMEN = insert(t.specimen)
_INSERT_STATE = insert(t.state)
_INSERT_PLACE = insert(t.place)
_INSERT_ALTERATION = insert(t.alteration)

_MEMBERSHIPS = (
    select(t.membership.c.shelf_id, t.membership.c.role)
    .join_from(t.membership, t.shelf, t.shelf.c.id == t.membership.c.shelf_id)
    .where(
        t.membership.c.keeper_id == bindparam("keeper"),
        or_(t.membership.c.from_day.is_(None), t.membership.c.from_day <= bindparam("day")),
        or_(t.membership.c.until_day.is_(None), t.membership.c.until_day >= bindparam("day")),
    )
    .order_by(
        t.shelf.c.owner_id != t.membership.c.keeper_id,
        t.membership.c.role == Role.HELPER.value,  # who shares a shelf for good is no helper of it meanwhile
        t.membership.c.id,
    )
)
_REVISION = select(t.shelf.c.revision).where(t.shelf.c.id == bindparam("shelf"))
_STANDS_THERE = select(t.specimen.c.id).where(
    t.specimen.c.place_id == t.place.c.id, t.specimen.c.gone_on.is_(None), ~t.specimen.c.void
)
_PLACES = (
    select(t.place.c.name)
    .where(t.place.c.shelf_id == bindparam("shelf"), _STANDS_THERE.exists())
    .order_by(t.place.c.id)
)
_PLACE = select(t.place.c.id).where(
    t.place.c.shelf_id == bindparam("shelf"), t.place.c.key == bindparam("key")
)
_LAST_POSITION = select(func.max(t.specimen.c.position)).where(t.specimen.c.shelf_id == bindparam("shelf"))

_STANDING = (
    select(*SPECIMEN_COLUMNS)
    .join_from(
        t.specimen,
        t.place,
        # the shelf as well, or PostgreSQL would rather read through everybody's places
        and_(t.place.c.id == t.specimen.c.place_id, t.place.c.shelf_id == bindparam("shelf")),
        isouter=True,
    )
    .where(t.specimen.c.shelf_id == bindparam("shelf"), ~t.specimen.c.void)
    .order_by(t.specimen.c.position, t.specimen.c.id)
)
_LIVING = _STANDING.where(t.specimen.c.gone_on.is_(None))
_ANYBODY = (
    select(t.specimen.c.id)
    .where(t.specimen.c.shelf_id == bindparam("shelf"), ~t.specimen.c.void, t.specimen.c.gone_on.is_(None))
    .limit(1)
)
_GONE = _STANDING.where(t.specimen.c.gone_on.is_not(None))
_WORD = t.hold.alias("word")
_LATEST_WORD = (
    select(func.max(_WORD.c.id))
    .where(_WORD.c.shelf_id == t.specimen.c.shelf_id, _WORD.c.specimen_id == t.specimen.c.id, _WORD.c.live)
    .scalar_subquery()
)
_FACTS = (
    _LIVING.with_only_columns(
        *CARD_COLUMNS,
        t.specimen.c.added_on,
        *(t.specimen.c[field] for field in OWN_INTERVALS.values()),
        t.state.c.facts,
        t.hold.c.on_day,
        t.hold.c.until_day,
    )
    .join(t.state, t.state.c.specimen_id == t.specimen.c.id)
    .outerjoin(t.hold, and_(t.hold.c.id == _LATEST_WORD, t.hold.c.starts))
)
#: Newest first, as many as a room with many places has in some weeks.
_READINGS = (
    select(t.entry.c.day, t.entry.c.place, t.entry.c.temp_c, t.entry.c.humidity_pct)
    .where(
        t.entry.c.shelf_id == bindparam("shelf"),
        t.entry.c.kind == Kind.CLIMATE.value,
        t.entry.c.live,
        t.entry.c.specimen_id.is_(None),
        t.entry.c.temp_c.is_not(None),
        t.entry.c.humidity_pct.is_not(None),
    )
    .order_by(t.entry.c.day.desc(), t.entry.c.id.desc())
    .limit(60)
)
_FACTS_OF = _FACTS.where(t.specimen.c.tag_key.in_(bindparam("keys", expanding=True)))


class Shelves:
    """Who stands on a shelf."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection
        self._projection = Projection(connection)

    def of(self, keeper_id: int, *, on: date) -> tuple[Membership, ...]:
        """The shelves that a keeper may see on a day, their own first."""
        rows = self._db.execute(_MEMBERSHIPS, {"keeper": keeper_id, "day": on})
        return tuple(Membership(shelf_id=row.shelf_id, role=Role(row.role)) for row in rows)

    def revision(self, shelf_id: int) -> int:
        """A number that grows with every change to who stands there and what they are called."""
        found = self._db.execute(_REVISION, {"shelf": shelf_id}).scalar()
        if found is None:
            raise NotOnShelfError(f"There is no shelf {shelf_id}.")
        return int(found)

    def is_empty(self, shelf_id: int) -> bool:
        """Whether nobody living stands on the shelf."""
        return self._db.execute(_ANYBODY, {"shelf": shelf_id}).first() is None

    def specimens(self, shelf_id: int, *, gone: bool = False) -> tuple[StoredSpecimen, ...]:
        """The living specimens in the order of the shelf; with ``gone``, those that died or left."""
        rows = self._db.execute(_GONE if gone else _LIVING, {"shelf": shelf_id})
        return tuple(specimen_from(row) for row in rows)

    def facts(
        self,
        shelf_id: int,
        *,
        tags: Collection[str] | None = None,
        surroundings: Surroundings | None = None,
    ) -> tuple[SpecimenFacts, ...]:
        """All that the round needs of the living specimens, in the order of the shelf; of some tags only.

        ``surroundings`` are the shelf's, where they have been read.
        """
        query, values = _FACTS, dict[str, Any](shelf=shelf_id)
        if tags is not None:
            query, values = _FACTS_OF, values | {"keys": [key_of(tag) for tag in tags]}
        around = surroundings or self.surroundings(shelf_id)
        rows = self._db.execute(query, values).all()
        return tuple(_facts_from(row, around) for row in rows)

    def surroundings(self, shelf_id: int) -> Surroundings:
        """What holds for all who stand on a shelf."""
        return Surroundings(air=self._air(shelf_id), schedule=Schedules(self._db).current(shelf_id))

    def _air(self, shelf_id: int) -> dict[str, Air]:
        """The latest reading of each place of late; that of the whole room under an empty name.

        What is older than the newest by more than a reading is worth says nothing of today.
        """
        readings: dict[str, Air] = {}
        newest: date | None = None
        with self._db.execute(_READINGS, {"shelf": shelf_id}) as rows:
            for day, place, temp_c, humidity_pct in chain.from_iterable(rows.partitions(_AT_ONCE)):
                newest = newest or day
                if (newest - day).days > READING_DAYS:
                    break
                where = place or ""
                if where not in readings:
                    readings[where] = Air(on=day, temp_c=float(temp_c), humidity_pct=float(humidity_pct))
        return readings

    def places(self, shelf_id: int) -> tuple[str, ...]:
        """The places where someone stands, in the order in which they were first named."""
        return tuple(self._db.execute(_PLACES, {"shelf": shelf_id}).scalars())

    def place_number(self, shelf_id: int, place: str | None) -> int | None:
        """The number of a place, which is made where it is new."""
        if place is None or not key_of(place):
            return None
        chosen = {"shelf": shelf_id, "key": key_of(place)}
        number = self._db.execute(_PLACE, chosen).scalar()
        if number is None:
            values = {"shelf_id": shelf_id, "name": place, "key": chosen["key"]}
            number = new_row(self._db, _INSERT_PLACE, values)
        return int(number)

    def add(self, change_id: int, specimen: Specimen, *, on: date) -> StoredSpecimen:
        """Puts a specimen at the end of the change's shelf.

        Raises :class:`TagTakenError` where a living specimen of the shelf has its tag.
        """
        return self.add_all(change_id, [specimen], on=[on])[0]

    def add_all(
        self, change_id: int, specimens: Sequence[Specimen], *, on: Sequence[date]
    ) -> tuple[StoredSpecimen, ...]:
        """Puts specimens at the end of the change's shelf, each with the day on which it came."""
        if not specimens:
            return ()
        shelf_id = shelf_of_change(self._db, change_id)
        self._projection.refuse_taken(shelf_id, [key_of(specimen.tag) for specimen in specimens])
        last = self._db.execute(_LAST_POSITION, {"shelf": shelf_id}).scalar() or 0
        stored = []
        for step, (specimen, day) in enumerate(zip(specimens, on, strict=True), start=1):
            kept = _as_kept(specimen)
            position = int(last) + step * POSITION_STEP
            row = self._row(shelf_id, change_id, kept, on=day, position=position)
            number = new_row(self._db, _INSERT_SPECIMEN, row)
            stored.append(
                StoredSpecimen(id=number, specimen=kept, added_on=day, gone_on=None, position=position)
            )
        self._db.execute(
            _INSERT_STATE,
            [
                {
                    "specimen_id": one.id,
                    "shelf_id": shelf_id,
                    "facts": facts_of(start_of(identity_of(one.specimen), one.added_on)),
                    "last_day": None,
                    "last_time": None,
                }
                for one in stored
            ],
        )
        self._projection.revise({shelf_id})
        return tuple(stored)

    def _row(
        self, shelf_id: int, change_id: int, specimen: Specimen, *, on: date, position: int
    ) -> dict[str, Any]:
        identity = identity_of(specimen)
        place_id = self.place_number(shelf_id, specimen.place)
        return identity | {
            "shelf_id": shelf_id,
            "change_id": change_id,
            "tag_key": key_of(specimen.tag),
            "name_key": key_of(specimen.name) if specimen.name else None,
            "span_cm": specimen.span_cm,
            "place_id": place_id,
            "position": position,
            "added_on": on,
            "gone_on": None,
            "void": False,
            **NO_INTERVALS,
            "added_as": identity | {"place_id": place_id, "position": position, **NO_INTERVALS},
        }

    def numbers(self, shelf_id: int, tags: Iterable[str]) -> dict[str, int]:
        """The numbers of the specimens of some tags, by the tags' keys."""
        return {key: standing.id for key, standing in self._projection.find(shelf_id, tags).items()}

    def work_out(self, numbers: Iterable[int]) -> None:
        """Works out specimens and their states anew from the journal."""
        self._projection.work_out(numbers)

    def alter(self, change_id: int, tag: str, /, **fields: Any) -> None:
        """Changes who a specimen is: ``name``, ``tag``, ``place``, ``species``, ``common``, ``aka``,
        ``habit``, ``stage``, ``sex``, ``position``, or how often it is to be fed or watered (``feed_every``,
        ``water_every``, ``dish_every``, ``mist_every``: days, ``None`` for the rule again); undone with its
        change.

        Raises :class:`TagTakenError`, and :class:`NotOnShelfError` for a tag that the shelf has never had.
        """
        if strange := sorted(set(fields) - ALTERABLE):
            raise StoreError(f"A specimen's {', '.join(strange)} cannot be altered.")
        shelf_id = shelf_of_change(self._db, change_id)
        standing = self._projection.find(shelf_id, [tag])[key_of(tag)]
        if "place" in fields:
            fields["place_id"] = self.place_number(shelf_id, fields.pop("place"))
        row = {
            "shelf_id": shelf_id,
            "change_id": change_id,
            "specimen_id": standing.id,
            "fields": {name: _as_json(value) for name, value in fields.items()},
        }
        with self._db.begin_nested():
            self._db.execute(_INSERT_ALTERATION, row)
            self._projection.work_out([standing.id])


def _facts_from(row: AnyRow, around: Surroundings) -> SpecimenFacts:
    *card, added_on, feed_every, water_every, dish_every, mist_every, state, held_since, held_until = row
    specimen = card_from(card)
    return SpecimenFacts(
        specimen=specimen,
        state=state_from(state),
        held_since=held_since,
        held_until=held_until,
        added_on=added_on,
        feed_every=feed_every,
        water_every=water_every,
        dish_every=dish_every,
        mist_every=mist_every,
        schedule=around.schedule,
        air=around.air.get(specimen.place or "", around.air.get("")),
    )


def _as_kept(specimen: Specimen) -> Specimen:
    """The specimen as it will read when it is read back."""
    return replace(
        specimen,
        tag=storable_words(specimen.tag),
        name=storable_words(specimen.name) if specimen.name else None,
        species=storable_words(specimen.species),
        common=tuple(storable_words(name) for name in specimen.common),
        aka=tuple(storable_words(name) for name in specimen.aka),
        place=storable_words(specimen.place) if specimen.place else None,
        span_cm=None if specimen.span_cm is None else exact(specimen.span_cm),
    )


def _as_json(value: Any) -> Any:
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, str):
        return storable_words(value)
    return [storable_words(name) for name in value] if isinstance(value, tuple | list) else value
