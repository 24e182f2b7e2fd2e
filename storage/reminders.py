"""Reminders: what a keeper wants to be told, and when next."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, bindparam, func, insert, or_, select, update

from storage import tables as t
from storage.dialect import AnyRow, Claim, new_row
from storage.errors import NotOnShelfError
from storage.projection import Projection
from storage.records import StoredReminder

_INSERT = insert(t.reminder)
_INSERT_SPECIMEN = insert(t.reminder_specimen)
_CHANGE = select(t.change.c.shelf_id, t.change.c.keeper_id).where(t.change.c.id == bindparam("number"))

_ABOUT = select(t.reminder_specimen.c.reminder_id).where(t.reminder_specimen.c.reminder_id == t.reminder.c.id)
_ABOUT_LIVING = _ABOUT.join(t.specimen, t.specimen.c.id == t.reminder_specimen.c.specimen_id).where(
    t.specimen.c.gone_on.is_(None), ~t.specimen.c.void
)
_OPEN = select(t.reminder).where(
    t.reminder.c.live, ~t.reminder.c.ended, or_(~_ABOUT.exists(), _ABOUT_LIVING.exists())
)
_COUNT_OPEN = select(func.count(t.reminder.c.id)).where(
    t.reminder.c.shelf_id == bindparam("shelf"),
    t.reminder.c.live,
    ~t.reminder.c.ended,
    ~t.reminder.c.of_round,
)
_IN_ORDER = _OPEN.order_by(t.reminder.c.next_at, t.reminder.c.id)
_OF_SHELF = _IN_ORDER.where(t.reminder.c.shelf_id == bindparam("shelf"), ~t.reminder.c.of_round)
_TOLD = (
    select(t.reminder)
    .where(
        t.reminder.c.shelf_id == bindparam("shelf"),
        t.reminder.c.live,
        t.reminder.c.ended,
        ~t.reminder.c.of_round,
        t.reminder.c.next_at > bindparam("after"),
        t.reminder.c.next_at <= bindparam("now"),
    )
    .order_by(t.reminder.c.next_at.desc(), t.reminder.c.id)
)
_SECOND_LOOKS = _IN_ORDER.where(
    t.reminder.c.shelf_id == bindparam("shelf"),
    t.reminder.c.keeper_id == bindparam("keeper"),
    t.reminder.c.of_round,
)
_TO_TELL = (
    _OPEN.join(t.keeper, t.keeper.c.id == t.reminder.c.keeper_id)
    .where(t.reminder.c.next_at <= bindparam("now"), ~t.keeper.c.paused)
    .order_by(t.reminder.c.next_at, t.reminder.c.id)
)
_DUE = Claim(_TO_TELL.limit(bindparam("most")), of=t.reminder)
_STILL_DUE = Claim(_TO_TELL.where(t.reminder.c.id.in_(bindparam("numbers", expanding=True))), of=t.reminder)
_TAGS = (
    select(t.reminder_specimen.c.reminder_id, t.specimen.c.tag)
    .join_from(t.reminder_specimen, t.specimen, t.specimen.c.id == t.reminder_specimen.c.specimen_id)
    .where(
        t.reminder_specimen.c.reminder_id.in_(bindparam("numbers", expanding=True)),
        t.specimen.c.gone_on.is_(None),
        ~t.specimen.c.void,
    )
    .order_by(t.specimen.c.position, t.specimen.c.id)
)
_MOVED = update(t.reminder).where(t.reminder.c.id == bindparam("number")).values(next_at=bindparam("then"))
_BEGINS_ANEW = (
    update(t.reminder)
    .where(t.reminder.c.id == bindparam("number"))
    .values(next_at=bindparam("then"), day=bindparam("from_day"))
)
_PUT_TO = (
    update(t.reminder)
    .where(t.reminder.c.id == bindparam("number"))
    .values(
        next_at=bindparam("then"), day=bindparam("on_day"), time=bindparam("at"), zone=bindparam("in_zone")
    )
)
_ENDED = select(t.reminder.c.ended).where(t.reminder.c.change_id == bindparam("number"))
_END = update(t.reminder).where(t.reminder.c.id == bindparam("number")).values(ended=bindparam("over"))


class Reminders:
    """Open reminders. One that is only about specimens that are gone is not told any more."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def add(
        self,
        change_id: int,
        *,
        what: str,
        tags: Iterable[str],
        next_at: dt.datetime,
        day: dt.date | None,
        time: dt.time | None,
        repeats: str | None,
        zone: str,
        from_done: bool = False,
        of_round: bool = False,
    ) -> int:
        """Keeps a reminder of the change's keeper; undone with its change. Gives its number."""
        change = self._db.execute(_CHANGE, {"number": change_id}).first()
        if change is None:
            raise NotOnShelfError(f"There is no change {change_id}.")
        about = Projection(self._db).find(change.shelf_id, tags)
        values = {
            "shelf_id": change.shelf_id,
            "keeper_id": change.keeper_id,
            "change_id": change_id,
            "what": what,
            "next_at": next_at,
            "day": day,
            "time": time,
            "repeats": repeats,
            "from_done": from_done,
            "of_round": of_round,
            "zone": zone,
            "live": True,
            "ended": False,
        }
        number = new_row(self._db, _INSERT, values)
        if about:
            links = [{"reminder_id": number, "specimen_id": standing.id} for standing in about.values()]
            self._db.execute(_INSERT_SPECIMEN, links)
        return number

    def open(self, shelf_id: int) -> tuple[StoredReminder, ...]:
        """The open reminders that were asked for on a shelf, the next one first."""
        return self._read(self._db.execute(_OF_SHELF, {"shelf": shelf_id}).all())

    def told(self, shelf_id: int, after: dt.datetime, now: dt.datetime) -> tuple[StoredReminder, ...]:
        """Those closed since their time came, which was later than ``after``: the latest first."""
        return self._read(self._db.execute(_TOLD, {"shelf": shelf_id, "after": after, "now": now}).all())

    def second_looks(self, shelf_id: int, keeper_id: int) -> tuple[StoredReminder, ...]:
        """The second looks at a keeper's round of a shelf that are yet to come."""
        return self._read(self._db.execute(_SECOND_LOOKS, {"shelf": shelf_id, "keeper": keeper_id}).all())

    def count_open(self, shelf_id: int) -> int:
        """How many reminders that were asked for on a shelf are open."""
        return int(self._db.execute(_COUNT_OPEN, {"shelf": shelf_id}).scalar_one())

    def set_and_over(self, change_id: int) -> bool:
        """Whether a change set a reminder that was told or called off since, and would never come again."""
        over = self._db.execute(_ENDED, {"number": change_id}).scalars().all()
        return bool(over) and all(over)

    def due(self, now: dt.datetime, limit: int) -> tuple[StoredReminder, ...]:
        """Reminders whose time has come, the longest due first; those of paused keepers wait."""
        return self._read(_DUE(self._db, {"now": now, "most": limit}))

    def still_due(self, now: dt.datetime, numbers: Iterable[int]) -> tuple[StoredReminder, ...]:
        """Those of some reminders whose time has come and which no other worker has in hand."""
        return self._read(_STILL_DUE(self._db, {"now": now, "numbers": list(numbers)}))

    def moved(self, reminder_id: int, next_at: dt.datetime) -> None:
        """Sets when a reminder is to be told next."""
        self._db.execute(_MOVED, {"number": reminder_id, "then": next_at})

    def begins_anew(self, reminder_id: int, day: dt.date, next_at: dt.datetime) -> None:
        """Counts a repeated reminder from another day on; it is to be told next at ``next_at``."""
        self._db.execute(_BEGINS_ANEW, {"number": reminder_id, "from_day": day, "then": next_at})

    def put_to(
        self, reminder_id: int, *, day: dt.date | None, time: dt.time | None, next_at: dt.datetime, zone: str
    ) -> None:
        """Gives a reminder another wall time in a zone; it is to be told next at ``next_at``."""
        self._db.execute(
            _PUT_TO, {"number": reminder_id, "then": next_at, "on_day": day, "at": time, "in_zone": zone}
        )

    def end(self, reminder_id: int) -> None:
        """Closes a reminder: it was told, or is not wanted any more."""
        self._db.execute(_END, {"number": reminder_id, "over": True})

    def reopen(self, reminder_id: int) -> None:
        """Opens one again that was closed."""
        self._db.execute(_END, {"number": reminder_id, "over": False})

    def _read(self, rows: Sequence[AnyRow]) -> tuple[StoredReminder, ...]:
        tags: defaultdict[int, list[str]] = defaultdict(list)
        if rows:
            for link in self._db.execute(_TAGS, {"numbers": [row.id for row in rows]}):
                tags[link.reminder_id].append(link.tag)
        return tuple(
            StoredReminder(
                id=row.id,
                shelf_id=row.shelf_id,
                keeper_id=row.keeper_id,
                change_id=row.change_id,
                what=row.what,
                tags=tuple(tags[row.id]),
                next_at=row.next_at,
                day=row.day,
                time=row.time,
                repeats=row.repeats,
                from_done=row.from_done,
                of_round=row.of_round,
                zone=row.zone,
            )
            for row in rows
        )
