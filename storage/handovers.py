"""Hand-overs: periods in which somebody else looks after a shelf, by an invite of their own."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import Connection, bindparam, insert, select, update

from storage import tables as t
from storage.dialect import AnyRow, new_row
from storage.errors import NotOnShelfError
from storage.records import Handover, Role

_H, _I, _M = t.handover.c, t.invite.c, t.membership.c
_INSERT = insert(t.handover)
_INSERT_INVITE = insert(t.invite)
_READ = select(
    _H.id, _H.shelf_id, _H.by_keeper, _H.called, _H.first_day, _H.last_day, _H.settled, _I.redeemed_by
).join_from(t.handover, t.invite, _I.id == _H.invite_id)
_GET = _READ.where(_H.id == bindparam("number"))
_OPEN = _READ.where(_H.shelf_id == bindparam("shelf"), ~_H.settled).order_by(_H.first_day, _H.id)
_OF_SHELF = _READ.where(_H.shelf_id == bindparam("shelf")).order_by(_H.first_day, _H.id)
_OF_HELPER = _READ.where(_I.redeemed_by == bindparam("keeper")).order_by(_H.last_day.desc(), _H.id.desc())
_OF_NUMBER = update(t.handover).where(_H.id == bindparam("number"))
_SETTLE = _OF_NUMBER.values(settled=True)
_CALL = _OF_NUMBER.values(called=bindparam("name"))
_SHORTEN = _OF_NUMBER.values(last_day=bindparam("last"))
_NEW_INVITE = _OF_NUMBER.values(invite_id=bindparam("invite"))
_INVITE_OF = select(_H.invite_id).where(_H.id == bindparam("number")).scalar_subquery()
_VOID_INVITE = (
    update(t.invite).where(_I.id == _INVITE_OF, _I.redeemed_at.is_(None)).values(expires_at=bindparam("at"))
)
_END_RIGHTS = (
    update(t.membership)
    .where(
        _M.shelf_id == bindparam("shelf"),
        _M.keeper_id == bindparam("helper"),
        _M.role == Role.HELPER.value,
        _M.from_day == bindparam("first"),
    )
    .values(until_day=bindparam("last"))
)
_OTHER = t.invite.alias("other_invite")
_CAME_OTHERWISE_SINCE = (
    select(_OTHER.c.id)
    .where(_OTHER.c.redeemed_by == t.keeper.c.id, _OTHER.c.role != Role.HELPER.value)
    .exists()
)
_HELPS_ONLY = (
    select(t.keeper.c.id)
    .join_from(t.keeper, t.invite, _I.redeemed_by == t.keeper.c.id)
    .where(
        t.keeper.c.id == bindparam("keeper"),
        _I.role == Role.HELPER.value,
        _I.redeemed_at == t.keeper.c.created_at,
        ~_CAME_OTHERWISE_SINCE,
    )
    .limit(1)
)


class Handovers:
    """The hand-overs of shelves. A helper's rights are those of the invite, and end with the period."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def begin(
        self,
        shelf_id: int,
        *,
        by: int,
        called: str,
        first: date,
        last: date,
        code_hash: str,
        expires_at: datetime,
        at: datetime,
    ) -> Handover:
        """Keeps a hand-over with an invite for its helper."""
        invite = self._invite(shelf_id, by, first, last, code_hash, expires_at, at)
        values = {
            "shelf_id": shelf_id,
            "by_keeper": by,
            "invite_id": invite,
            "called": called,
            "first_day": first,
            "last_day": last,
            "settled": False,
        }
        return self.get(new_row(self._db, _INSERT, values))

    def _invite(
        self,
        shelf_id: int,
        by: int,
        first: date,
        last: date,
        code_hash: str,
        expires_at: datetime,
        at: datetime,
    ) -> int:
        return new_row(
            self._db,
            _INSERT_INVITE,
            {
                "shelf_id": shelf_id,
                "role": Role.HELPER.value,
                "code_hash": code_hash,
                "by_keeper": by,
                "created_at": at,
                "expires_at": expires_at,
                "from_day": first,
                "until_day": last,
            },
        )

    def get(self, handover_id: int) -> Handover:
        """The hand-over. Raises :class:`NotOnShelfError` where there is none of that number."""
        row = self._db.execute(_GET, {"number": handover_id}).first()
        if row is None:
            raise NotOnShelfError(f"There is no hand-over {handover_id}.")
        return _handover_from(row)

    def open(self, shelf_id: int) -> tuple[Handover, ...]:
        """The hand-overs of a shelf that are not summed up yet, the earliest first."""
        return tuple(map(_handover_from, self._db.execute(_OPEN, {"shelf": shelf_id})))

    def of_shelf(self, shelf_id: int) -> tuple[Handover, ...]:
        """All hand-overs that a shelf has had, the earliest first."""
        return tuple(map(_handover_from, self._db.execute(_OF_SHELF, {"shelf": shelf_id})))

    def of_helper(self, keeper_id: int) -> tuple[Handover, ...]:
        """The hand-overs in which a keeper is or was the helper, the latest first."""
        return tuple(map(_handover_from, self._db.execute(_OF_HELPER, {"keeper": keeper_id})))

    def helps_only(self, keeper_id: int) -> bool:
        """Whether somebody came in by a helper's invite and no other since, and so has no shelf to keep."""
        return self._db.execute(_HELPS_ONLY, {"keeper": keeper_id}).first() is not None

    def invite_anew(self, handover: Handover, *, code_hash: str, expires_at: datetime, at: datetime) -> None:
        """Another invite in the place of one that nobody has opened; the old one holds no more."""
        self._db.execute(_VOID_INVITE, {"number": handover.id, "at": at})
        invite = self._invite(
            handover.shelf_id, handover.by, handover.first, handover.last, code_hash, expires_at, at
        )
        self._db.execute(_NEW_INVITE, {"number": handover.id, "invite": invite})

    def end(self, handover: Handover, *, last: date, at: datetime) -> None:
        """Ends a hand-over with a day; with the day before its first it never comes to pass.

        The helper's rights end with that day, and an invite that nobody has opened holds no more.
        """
        self._db.execute(_VOID_INVITE, {"number": handover.id, "at": at})
        self._db.execute(_SHORTEN, {"number": handover.id, "last": last})
        if handover.helper is not None:
            chosen = {"shelf": handover.shelf_id, "helper": handover.helper, "first": handover.first}
            self._db.execute(_END_RIGHTS, chosen | {"last": last})

    def call(self, handover_id: int, called: str) -> None:
        """Gives whoever helps another name with the keeper."""
        self._db.execute(_CALL, {"number": handover_id, "name": called})

    def settle(self, handover_id: int) -> None:
        """Notes that the keeper has had the summary, or that there is none to have."""
        self._db.execute(_SETTLE, {"number": handover_id})


def _handover_from(row: AnyRow) -> Handover:
    return Handover(
        id=row.id,
        shelf_id=row.shelf_id,
        by=row.by_keeper,
        called=row.called,
        first=row.first_day,
        last=row.last_day,
        helper=row.redeemed_by,
        settled=row.settled,
    )
