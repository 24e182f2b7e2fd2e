"""The journal: what happened, append-only. A correction supersedes, an undo voids, nothing is deleted."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time
from typing import Any

from sqlalchemy import Connection, Select, and_, bindparam, func, insert, or_, select, union, update

from bot.terms import Entry, Kind
from storage import tables as t
from storage.dialect import hold_row, new_row
from storage.errors import NotOnShelfError
from storage.keys import key_of
from storage.projection import Projection, Standing
from storage.records import Change, JournalEntry, Owned
from storage.rows import ENTRY_COLUMNS, as_stored, change_from, entry_from, entry_row, journal_entry

_INSERT_CHANGE = insert(t.change)
_INSERT_ENTRY = insert(t.entry)
_INSERT_ENTRIES = insert(t.entry).returning(t.entry.c.id, sort_by_parameter_order=True)
_INSERT_SUPERSESSIONS = insert(t.supersession)

_GET_CHANGE = select(t.change).where(t.change.c.id == bindparam("number"))
_HOLD_SHELF = select(t.shelf.c.id).where(t.shelf.c.id == bindparam("shelf")).with_for_update(key_share=True)
_LATEST_CHANGE = (
    select(t.change)
    .where(
        t.change.c.shelf_id == bindparam("shelf"),
        t.change.c.keeper_id == bindparam("keeper"),
        t.change.c.undone_at.is_(None),
    )
    .order_by(t.change.c.id.desc())
    .limit(1)
)
_OF_ORIGIN = (
    select(t.change).where(t.change.c.origin == bindparam("origin")).order_by(t.change.c.id.desc()).limit(1)
)
_OF_ORIGIN_ON_SHELF = _OF_ORIGIN.where(t.change.c.shelf_id == bindparam("shelf"))
_OF_ORIGIN_BY = _OF_ORIGIN.where(t.change.c.keeper_id == bindparam("keeper"))

_READ = (
    select(
        t.entry.c.id,
        t.entry.c.change_id,
        t.entry.c.zone,
        t.entry.c.live,
        t.change.c.at.label("recorded_at"),
        t.change.c.keeper_id,
        t.entry.c.specimen_id,
        t.specimen.c.tag,
        *ENTRY_COLUMNS,
    )
    .join_from(t.entry, t.change, t.change.c.id == t.entry.c.change_id)
    .outerjoin(t.specimen, t.specimen.c.id == t.entry.c.specimen_id)
)
#: What looking back over years needs, at half the cost: no change is looked up for its keeper and moment.
_READ_BY_OWNER = select(t.entry.c.specimen_id, t.specimen.c.tag, *ENTRY_COLUMNS).outerjoin_from(
    t.entry, t.specimen, t.specimen.c.id == t.entry.c.specimen_id
)
_OF_CHANGE = _READ.where(t.entry.c.change_id == bindparam("number")).order_by(t.entry.c.id)
_REPLACED = (
    _READ.join(t.supersession, t.supersession.c.entry_id == t.entry.c.id)
    .where(t.supersession.c.change_id == bindparam("number"))
    .order_by(t.entry.c.id)
)
_LIVE_ON_SHELF = and_(
    t.entry.c.shelf_id == bindparam("shelf"),
    t.entry.c.live,
    or_(t.entry.c.specimen_id.is_(None), ~t.specimen.c.void),
)
_LIVE_OF_SPECIMENS = and_(t.entry.c.specimen_id.in_(bindparam("numbers", expanding=True)), t.entry.c.live)
_ON_SHELF = _READ.where(_LIVE_ON_SHELF)
_OF_SPECIMENS = _READ.where(_LIVE_OF_SPECIMENS)
_TAKEN_BACK = _READ_BY_OWNER.where(t.entry.c.shelf_id == bindparam("shelf"), ~t.entry.c.live)
#: As :func:`bot.husbandry.state.journal_order` has it: no time stands where midnight does.
_OLDEST_FIRST = (t.entry.c.day, func.coalesce(t.entry.c.time, time.min), t.entry.c.id)
_NEWEST_FIRST = tuple(column.desc() for column in _OLDEST_FIRST)
_LAST = (
    _OF_SPECIMENS.where(t.entry.c.kind.in_(bindparam("kinds", expanding=True)))
    .order_by(*_NEWEST_FIRST)
    .limit(1)
)

_SUPERSEDING = t.change.alias("superseding")
#: Single values and no EXISTS: PostgreSQL may answer that by reading all changes there are into memory.
_CHANGE_IN_FORCE = (
    select(t.change.c.undone_at.is_(None)).where(t.change.c.id == t.entry.c.change_id).scalar_subquery()
)
_TIMES_SUPERSEDED = (
    select(func.count())
    .select_from(t.supersession)
    .join(_SUPERSEDING, _SUPERSEDING.c.id == t.supersession.c.change_id)
    .where(t.supersession.c.entry_id == t.entry.c.id, _SUPERSEDING.c.undone_at.is_(None))
    .scalar_subquery()
)
_IS_LIVE = and_(_CHANGE_IN_FORCE, _TIMES_SUPERSEDED == 0)
#: A union, since PostgreSQL would read all entries through to answer "or".
_TOUCHED_BY = t.entry.c.id.in_(
    union(
        select(t.entry.c.id).where(t.entry.c.change_id == bindparam("number")),
        select(t.supersession.c.entry_id).where(t.supersession.c.change_id == bindparam("number")),
    )
)
_SETTLE_ENTRIES = update(t.entry).where(_TOUCHED_BY).values(live=_IS_LIVE)
_SETTLE_SHELF = update(t.entry).where(t.entry.c.shelf_id == bindparam("shelf")).values(live=_IS_LIVE)
_SUPERSEDE = update(t.entry).where(t.entry.c.id.in_(bindparam("numbers", expanding=True))).values(live=False)
_OLD_ONES = select(t.entry.c.id, t.entry.c.specimen_id).where(
    t.entry.c.id.in_(bindparam("numbers", expanding=True)), t.entry.c.shelf_id == bindparam("shelf")
)
_TOUCHED_SPECIMENS = (
    select(t.entry.c.specimen_id).where(_TOUCHED_BY, t.entry.c.specimen_id.is_not(None)),
    select(t.specimen.c.id).where(t.specimen.c.change_id == bindparam("number")),
    select(t.alteration.c.specimen_id).where(t.alteration.c.change_id == bindparam("number")),
)
_UNDO = (
    update(t.change)
    .where(t.change.c.id == bindparam("number"), t.change.c.undone_at.is_(None))
    .values(undone_at=bindparam("when"))
)
_REDO = (
    update(t.change)
    .where(t.change.c.id == bindparam("number"), t.change.c.undone_at.is_not(None))
    .values(undone_at=None)
)
_SETTLE_BESIDES = tuple(
    update(table).where(table.c.change_id == bindparam("number")).values(live=bindparam("in_force"))
    for table in (t.hold, t.schedule, t.reminder)
)
_SPECIMENS_OF_SHELF = select(t.specimen.c.id).where(t.specimen.c.shelf_id == bindparam("shelf"))


class Journal:
    """What happened on a shelf, and by which message it was told."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection
        self._projection = Projection(connection)
        self._known: dict[int, Change] = {}
        #: The changes that were made in this transaction, in order.
        self.made: list[int] = []

    def change(self, shelf_id: int, keeper_id: int, *, at: datetime, origin: str | None) -> int:
        """Opens a change: the bracket around everything that one message does. Gives its number.

        Whoever else changes the same shelf waits until this transaction ends.
        """
        hold_row(self._db, _HOLD_SHELF, {"shelf": shelf_id})
        values = {"shelf_id": shelf_id, "keeper_id": keeper_id, "at": at, "origin": origin}
        number = new_row(self._db, _INSERT_CHANGE, values)
        self.made.append(number)
        self._known[number] = Change(
            id=number, shelf_id=shelf_id, keeper_id=keeper_id, at=at, origin=origin, undone_at=None
        )
        return number

    def log(self, change_id: int, entries: Sequence[Entry], *, zone: str) -> tuple[JournalEntry, ...]:
        """Stores entries, one row for each specimen of each, and brings the states up to date.

        Raises :class:`NotOnShelfError` for a tag that the change's shelf has never had, and
        :class:`NotStorableError` for amounts out of range; nothing is stored then.
        """
        change = self._change(change_id)
        entries = [as_stored(entry) for entry in entries]
        found = self._projection.find(change.shelf_id, (tag for e in entries for tag in e.specimens))
        split = list(_one_for_each(entries, found))
        numbers = self._insert(
            [
                entry_row(
                    entry,
                    zone=zone,
                    change_id=change_id,
                    shelf_id=change.shelf_id,
                    specimen_id=standing.id if standing else None,
                )
                for standing, entry in split
            ]
        )
        self._projection.add_on_top([(standing, entry) for standing, entry in split if standing])
        return tuple(
            journal_entry(number, change, entry, zone=zone, specimen_id=standing.id if standing else None)
            for number, (standing, entry) in zip(numbers, split, strict=True)
        )

    def _insert(self, rows: list[dict[str, Any]]) -> list[int]:
        if len(rows) == 1:
            said = {name: value for name, value in rows[0].items() if value is not None}
            return [new_row(self._db, _INSERT_ENTRY, said)]
        return [int(number) for number in self._db.execute(_INSERT_ENTRIES, rows).scalars()] if rows else []

    def replace(
        self, change_id: int, old: Sequence[int], new: Sequence[Entry], *, zone: str
    ) -> tuple[JournalEntry, ...]:
        """Puts new entries in the place of old ones, which stay in the journal, superseded.

        Raises :class:`NotOnShelfError` where an old entry is not of the change's shelf.
        """
        change = self._change(change_id)
        with self._db.begin_nested():
            chosen = {"numbers": list(old), "shelf": change.shelf_id}
            rows = self._db.execute(_OLD_ONES, chosen).all()
            if len(rows) != len(set(old)):
                raise NotOnShelfError("An entry to be replaced is not on this shelf.")
            if rows:
                superseded = [{"entry_id": row.id, "change_id": change_id} for row in rows]
                self._db.execute(_INSERT_SUPERSESSIONS, superseded)
                self._db.execute(_SUPERSEDE, {"numbers": list(old)})
                self._projection.work_out(row.specimen_id for row in rows if row.specimen_id is not None)
            return self.log(change_id, new, zone=zone)

    def undo(self, change_id: int, *, at: datetime) -> bool:
        """Voids all that a change did. False where it is undone already.

        Raises :class:`TagTakenError` where a specimen would come back under a tag given away meanwhile.
        """
        return self._turn(change_id, undone_at=at)

    def redo(self, change_id: int, *, at: datetime) -> bool:
        """Puts a voided change in force again. False where it is in force. ``at`` is not kept."""
        del at
        return self._turn(change_id, undone_at=None)

    def _turn(self, change_id: int, *, undone_at: datetime | None) -> bool:
        self._change(change_id)
        with self._db.begin_nested():
            turn, values = (_REDO, {}) if undone_at is None else (_UNDO, {"when": undone_at})
            if self._db.execute(turn, {"number": change_id, **values}).rowcount == 0:
                return False
            self._known.pop(change_id, None)
            self._db.execute(_SETTLE_ENTRIES, {"number": change_id})
            for settle in _SETTLE_BESIDES:
                self._db.execute(settle, {"number": change_id, "in_force": undone_at is None})
            touched: set[int] = set()
            for select_touched in _TOUCHED_SPECIMENS:
                touched |= set(self._db.execute(select_touched, {"number": change_id}).scalars())
            self._projection.work_out(touched)
        return True

    def alone_on(self, shelf_id: int) -> None:
        """Waits until nobody else is writing to a shelf, and makes all others wait until this is done."""
        hold_row(self._db, _HOLD_SHELF, {"shelf": shelf_id})

    def get_change(self, change_id: int) -> Change:
        """The change. Raises :class:`NotOnShelfError` where there is none of that number."""
        row = self._db.execute(_GET_CHANGE, {"number": change_id}).first()
        if row is None:
            raise NotOnShelfError(f"There is no change {change_id}.")
        return change_from(row)

    def _change(self, change_id: int) -> Change:
        """The change to be worked on, from this transaction's own memory where it was made here."""
        if change_id not in self._known:
            change = self.get_change(change_id)
            hold_row(self._db, _HOLD_SHELF, {"shelf": change.shelf_id})
            self._known[change_id] = change
        return self._known[change_id]

    def latest_change(self, shelf_id: int, keeper_id: int) -> Change | None:
        """The keeper's latest change of a shelf that is not undone."""
        row = self._db.execute(_LATEST_CHANGE, {"shelf": shelf_id, "keeper": keeper_id}).first()
        return change_from(row) if row else None

    def change_of(self, shelf_id: int, origin: str) -> Change | None:
        """The latest change of a shelf that came of a message, undone or not."""
        row = self._db.execute(_OF_ORIGIN_ON_SHELF, {"shelf": shelf_id, "origin": origin}).first()
        return change_from(row) if row else None

    def change_by(self, keeper_id: int, origin: str) -> Change | None:
        """The latest change that came of a message of a keeper's own, on whichever shelf, undone or not."""
        row = self._db.execute(_OF_ORIGIN_BY, {"keeper": keeper_id, "origin": origin}).first()
        return change_from(row) if row else None

    def entries_of(self, change_id: int) -> tuple[JournalEntry, ...]:
        """The entries that a change stored, live or not, in the order of recording."""
        return _read(self._db, _OF_CHANGE, {"number": change_id})

    def replaced_by(self, change_id: int) -> tuple[JournalEntry, ...]:
        """The entries in whose place a change put others, live or not."""
        return _read(self._db, _REPLACED, {"number": change_id})

    def entries(
        self,
        shelf_id: int,
        *,
        tags: Collection[str] | None = None,
        kinds: Collection[Kind] | None = None,
        since: date | None = None,
        until: date | None = None,
        limit: int | None = None,
        newest_first: bool = True,
    ) -> tuple[JournalEntry, ...]:
        """The live entries of a shelf; of some tags or kinds, from ``since`` to ``until`` inclusive.

        Raises :class:`NotOnShelfError` for a tag that the shelf has never had.
        """
        query, values = _ON_SHELF, dict[str, Any](shelf=shelf_id)
        if tags is not None:
            query, values = _OF_SPECIMENS, self._numbers(shelf_id, tags)
        if kinds is not None:
            query = query.where(t.entry.c.kind.in_([Kind(kind).value for kind in kinds]))
        if since is not None:
            query = query.where(t.entry.c.day >= since)
        if until is not None:
            query = query.where(t.entry.c.day <= until)
        query = query.order_by(*(_NEWEST_FIRST if newest_first else _OLDEST_FIRST))
        return _read(self._db, query if limit is None else query.limit(limit), values)

    def by_owner(
        self, shelf_id: int, *, tags: Collection[str] | None = None, until: date | None = None
    ) -> tuple[Owned, ...]:
        """The live entries of a shelf, oldest first, each with its specimen's number; of some tags only.

        Raises :class:`NotOnShelfError` for a tag that the shelf has never had.
        """
        query, values = _READ_BY_OWNER.where(_LIVE_ON_SHELF), dict[str, Any](shelf=shelf_id)
        if tags is not None:
            query, values = _READ_BY_OWNER.where(_LIVE_OF_SPECIMENS), self._numbers(shelf_id, tags)
        if until is not None:
            query = query.where(t.entry.c.day <= until)
        return _owned(self._db, query, values)

    def taken_back(self, shelf_id: int) -> tuple[Owned, ...]:
        """The entries of a shelf that were undone or that others took the place of, in the order of days."""
        return _owned(self._db, _TAKEN_BACK, {"shelf": shelf_id})

    def _numbers(self, shelf_id: int, tags: Collection[str]) -> dict[str, Any]:
        found = self._projection.find(shelf_id, tags)
        return {"numbers": [standing.id for standing in found.values()]}

    def last(self, shelf_id: int, tag: str, kinds: Collection[Kind]) -> JournalEntry | None:
        """The latest live entry of one of these kinds for a tag."""
        standing = self._projection.find(shelf_id, [tag])[key_of(tag)]
        values = {"numbers": [standing.id], "kinds": [Kind(kind).value for kind in kinds]}
        return next(iter(_read(self._db, _LAST, values)), None)

    def rebuild(self, shelf_id: int) -> None:
        """Works out from the journal alone which entries are live, and every specimen's state."""
        hold_row(self._db, _HOLD_SHELF, {"shelf": shelf_id})
        self._db.execute(_SETTLE_SHELF, {"shelf": shelf_id})
        self._projection.work_out(self._db.execute(_SPECIMENS_OF_SHELF, {"shelf": shelf_id}).scalars().all())


def _one_for_each(
    entries: Iterable[Entry], found: dict[str, Standing]
) -> Iterable[tuple[Standing | None, Entry]]:
    for entry in entries:
        if not entry.specimens:
            yield None, entry
        for key in dict.fromkeys(key_of(tag) for tag in entry.specimens):
            standing = found[key]
            yield standing, replace(entry, specimens=(standing.tag,))


def _owned(connection: Connection, query: Select[Any], values: dict[str, Any]) -> tuple[Owned, ...]:
    rows = connection.execute(query.order_by(*_OLDEST_FIRST), values)
    return tuple(Owned(number, entry_from(fields, tag)) for number, tag, *fields in rows)


def _read(connection: Connection, query: Select[Any], values: dict[str, Any]) -> tuple[JournalEntry, ...]:
    return tuple(
        JournalEntry(
            id=number,
            change_id=change_id,
            entry=entry_from(fields, tag),
            recorded_at=recorded_at,
            zone=zone,
            by=keeper_id,
            live=live,
            specimen_id=specimen_id,
        )
        for number, change_id, zone, live, recorded_at, keeper_id, specimen_id, tag, *fields in (
            connection.execute(query, values)
        )
    )
