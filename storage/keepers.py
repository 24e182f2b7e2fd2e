"""Keepers: who they are, how they are reached, when their next round falls due, and invites."""

from __future__ import annotations

from dataclasses import fields
from datetime import date, datetime
from typing import Any, Final

from sqlalchemy import Connection, and_, bindparam, delete, exists, func, insert, select, update

from bot.terms import DateOrder, KeeperSettings, Units
from storage import tables as t
from storage.dialect import AnyRow, Claim, InsertUnlessThere, hold_row, new_row
from storage.errors import AddressTakenError, NotOnShelfError
from storage.handovers import Handovers
from storage.records import Contact, Keeper, Role

_SETTINGS: Final = tuple(f.name for f in fields(KeeperSettings))
_K = t.keeper.c

_INSERT_KEEPER = insert(t.keeper)
_INSERT_SHELF = insert(t.shelf)
_INSERT_MEMBERSHIP = insert(t.membership)
_INSERT_CONTACT = InsertUnlessThere(t.contact, t.contact.c.keeper_id)
_INSERT_INVITE = insert(t.invite)

_READ = select(
    _K.id,
    _K.name,
    _K.settled,
    _K.paused,
    _K.next_round_at,
    t.shelf.c.id.label("shelf_id"),
    *(_K[name] for name in _SETTINGS),
).join_from(t.keeper, t.shelf, t.shelf.c.owner_id == _K.id)
_OWNER = _READ.where(t.shelf.c.id == bindparam("shelf"))
_GET = _READ.where(_K.id == bindparam("number"))
_NAME = select(_K.name).where(_K.id == bindparam("number"))
_BY_CONTACT = _READ.join(t.contact, t.contact.c.keeper_id == _K.id).where(
    t.contact.c.front_end == bindparam("front_end"), t.contact.c.address == bindparam("address")
)
_DUE = Claim(
    _READ.where(_K.next_round_at.is_not(None), ~_K.paused, _K.next_round_at <= bindparam("now"))
    .order_by(_K.next_round_at, _K.id)
    .limit(bindparam("most")),
    of=t.keeper,
)
_AHEAD = _READ.where(_K.next_round_at.is_not(None), ~_K.paused, _K.next_round_at > bindparam("moment"))
_TAKE_ROUND = Claim(
    _GET.where(
        ~_K.paused,
        _K.next_round_at.is_not(None),
        _K.next_round_at <= bindparam("now"),
    ),
    of=t.keeper,
)
_ALL = _READ.where(~_K.paused, _K.id > bindparam("after")).order_by(_K.id).limit(bindparam("most"))
_LANGUAGES = select(_K.language).where(~_K.paused).distinct().order_by(_K.language)
_CONTACTS = (
    select(t.contact.c.front_end, t.contact.c.address)
    .where(t.contact.c.keeper_id == bindparam("number"))
    .order_by(t.contact.c.front_end, t.contact.c.address)
)
_OF_NUMBER = update(t.keeper).where(_K.id == bindparam("number"))
_SAVE_SETTINGS = _OF_NUMBER.values({name: bindparam(f"new_{name}") for name in _SETTINGS})
_SETTLED = _OF_NUMBER.values(settled=bindparam("answered"))
_PAUSED = _OF_NUMBER.values(paused=bindparam("stopped"))
_NEXT_ROUND = _OF_NUMBER.values(next_round_at=bindparam("at"))

_OPEN_INVITE = select(
    t.invite.c.id, t.invite.c.shelf_id, t.invite.c.role, t.invite.c.from_day, t.invite.c.until_day
).where(
    t.invite.c.code_hash == bindparam("hash"),
    t.invite.c.redeemed_at.is_(None),
    t.invite.c.expires_at > bindparam("now"),
)
_HOLD_INVITE = (
    select(t.invite.c.id).where(t.invite.c.code_hash == bindparam("hash")).with_for_update(key_share=True)
)
_OPEN_INVITES = select(func.count(t.invite.c.id)).where(
    t.invite.c.by_keeper == bindparam("keeper"),
    t.invite.c.redeemed_at.is_(None),
    t.invite.c.expires_at > bindparam("now"),
)
_REDEEM = (
    update(t.invite)
    .where(t.invite.c.id == bindparam("number"))
    .values(redeemed_at=bindparam("now"), redeemed_by=bindparam("keeper"))
)
_IS_MEMBER = select(t.membership.c.id).where(
    t.membership.c.shelf_id == bindparam("shelf"),
    t.membership.c.keeper_id == bindparam("keeper"),
    t.membership.c.until_day.is_(None),
)

_OLD_DIALOG = t.dialog.alias("old_dialog")
_DROP_NEW_DIALOGS = delete(t.dialog).where(
    t.dialog.c.chat == bindparam("new"),
    exists().where(
        and_(_OLD_DIALOG.c.keeper_id == t.dialog.c.keeper_id, _OLD_DIALOG.c.chat == bindparam("old"))
    ),
)
_NEW_CONTACT = t.contact.alias("new_contact")
_DROP_OLD_CONTACT = delete(t.contact).where(
    t.contact.c.front_end == bindparam("at"),
    t.contact.c.address == bindparam("old"),
    exists().where(_NEW_CONTACT.c.front_end == bindparam("at"), _NEW_CONTACT.c.address == bindparam("new")),
)
_MOVE_CONTACT = (
    update(t.contact)
    .where(t.contact.c.front_end == bindparam("at"), t.contact.c.address == bindparam("old"))
    .values(address=bindparam("new"))
)
_MOVES = (
    update(t.dialog).where(t.dialog.c.chat == bindparam("old")).values(chat=bindparam("new")),
    update(t.prompt).where(t.prompt.c.chat == bindparam("old")).values(chat=bindparam("new")),
    update(t.inbox)
    .where(t.inbox.c.chat == bindparam("old"), t.inbox.c.done_at.is_(None), t.inbox.c.aside_at.is_(None))
    .values(chat=bindparam("new")),
    update(t.outbox)
    .where(t.outbox.c.chat == bindparam("old"), t.outbox.c.sent_at.is_(None), t.outbox.c.failed_at.is_(None))
    .values(chat=bindparam("new")),
)


class Keepers:
    """The keepers of the store."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def create(self, name: str, settings: KeeperSettings, *, at: datetime) -> Keeper:
        """A new keeper, with a shelf of their own."""
        values: dict[str, Any] = {
            "name": name,
            "settled": False,
            "paused": False,
            "next_round_at": None,
            "created_at": at,
            **_columns_of(settings),
        }
        number = new_row(self._db, _INSERT_KEEPER, values)
        shelf_id = new_row(self._db, _INSERT_SHELF, {"owner_id": number, "revision": 0})
        self._join(shelf_id, number, Role.OWNER)
        return Keeper(
            id=number,
            name=name,
            settings=settings,
            settled=False,
            paused=False,
            shelf_id=shelf_id,
            next_round_at=None,
        )

    def _join(
        self,
        shelf_id: int,
        keeper_id: int,
        role: Role,
        from_day: date | None = None,
        until_day: date | None = None,
    ) -> None:
        values = {"shelf_id": shelf_id, "keeper_id": keeper_id, "role": role.value}
        self._db.execute(_INSERT_MEMBERSHIP, values | {"from_day": from_day, "until_day": until_day})

    def get(self, keeper_id: int) -> Keeper:
        """The keeper. Raises :class:`NotOnShelfError` where there is none of that number."""
        row = self._db.execute(_GET, {"number": keeper_id}).first()
        if row is None:
            raise NotOnShelfError(f"There is no keeper {keeper_id}.")
        return _keeper_from(row)

    def name_of(self, keeper_id: int) -> str | None:
        """What a keeper is called; ``None`` where nothing but a number is left of them."""
        return self._db.execute(_NAME, {"number": keeper_id}).scalar() or None

    def by_contact(self, front_end: str, address: str) -> Keeper | None:
        """Whom an address at a front end belongs to."""
        row = self._db.execute(_BY_CONTACT, {"front_end": front_end, "address": address}).first()
        return _keeper_from(row) if row else None

    def link(self, keeper_id: int, front_end: str, address: str) -> None:
        """Notes where a keeper is reached. Raises :class:`AddressTakenError` where another keeper is."""
        values = {"keeper_id": keeper_id, "front_end": front_end, "address": address}
        if _INSERT_CONTACT(self._db, values) is None:
            holder = self.by_contact(front_end, address)
            if holder is None or holder.id != keeper_id:
                raise AddressTakenError("Another keeper is reached at that address.")

    def contacts(self, keeper_id: int) -> tuple[Contact, ...]:
        """Where a keeper is reached."""
        rows = self._db.execute(_CONTACTS, {"number": keeper_id})
        return tuple(Contact(front_end=row.front_end, address=row.address) for row in rows)

    def save_settings(self, keeper_id: int, settings: KeeperSettings) -> None:
        """Replaces a keeper's settings."""
        values = {f"new_{name}": value for name, value in _columns_of(settings).items()}
        self._db.execute(_SAVE_SETTINGS, {"number": keeper_id, **values})

    def mark_settled(self, keeper_id: int) -> None:
        """Notes that the questions of the first day are answered."""
        self._db.execute(_SETTLED, {"number": keeper_id, "answered": True})

    def pause(self, keeper_id: int) -> None:
        """Sends nothing more of its own accord: the keeper has stopped the bot."""
        self._db.execute(_PAUSED, {"number": keeper_id, "stopped": True})

    def resume(self, keeper_id: int) -> None:
        """The keeper is back."""
        self._db.execute(_PAUSED, {"number": keeper_id, "stopped": False})

    def due_for_round(self, now: datetime, limit: int) -> tuple[Keeper, ...]:
        """Keepers whose next round is due, the latest due first in line; those paused are left out."""
        return tuple(_keeper_from(row) for row in _DUE(self._db, {"now": now, "most": limit}))

    def planned_after(self, moment: datetime) -> tuple[Keeper, ...]:
        """Keepers whose next round is planned for after a moment; those paused are left out."""
        return tuple(_keeper_from(row) for row in self._db.execute(_AHEAD, {"moment": moment}))

    def take_round(self, keeper_id: int, now: datetime) -> Keeper | None:
        """The keeper whose round is due, if it is this worker's to make, and no one else's till the end."""
        rows = _TAKE_ROUND(self._db, {"number": keeper_id, "now": now})
        return _keeper_from(rows[0]) if rows else None

    def active(self, *, after: int = 0, limit: int) -> tuple[Keeper, ...]:
        """Keepers who have not stopped the bot, by number, some at a time: those after a number."""
        return tuple(_keeper_from(row) for row in self._db.execute(_ALL, {"after": after, "most": limit}))

    def languages(self) -> tuple[str, ...]:
        """The languages of the keepers who have not stopped the bot."""
        return tuple(self._db.execute(_LANGUAGES).scalars())

    def set_next_round(self, keeper_id: int, at: datetime | None) -> None:
        """When the keeper's next round falls due; ``None`` for never."""
        self._db.execute(_NEXT_ROUND, {"number": keeper_id, "at": at})

    def readdress(self, front_end: str, old: str, new: str) -> None:
        """Moves a chat to its new address: contact, dialogs, prompts, and what waits to come in or go out.

        Where the new address has a dialog already, the old one's takes its place; where it is a keeper's
        contact already, it stays that keeper's. Moving twice does no harm.
        """
        self._db.execute(_DROP_OLD_CONTACT, {"at": front_end, "old": old, "new": new})
        self._db.execute(_MOVE_CONTACT, {"at": front_end, "old": old, "new": new})
        self._db.execute(_DROP_NEW_DIALOGS, {"old": old, "new": new})
        for move in _MOVES:
            self._db.execute(move, {"old": old, "new": new})

    def invite(
        self,
        shelf_id: int | None,
        *,
        role: Role | str,
        code_hash: str,
        by: int,
        expires_at: datetime,
        at: datetime,
        from_day: date | None = None,
        until_day: date | None = None,
    ) -> None:
        """Keeps an invite to a shelf, or with no shelf to keep one of one's own. Only its hash is kept.

        Who comes by it sees the shelf from ``from_day`` to ``until_day`` inclusive.
        """
        self._db.execute(
            _INSERT_INVITE,
            {
                "shelf_id": shelf_id,
                "role": Role(role).value,
                "code_hash": code_hash,
                "by_keeper": by,
                "created_at": at,
                "expires_at": expires_at,
                "from_day": from_day,
                "until_day": until_day,
            },
        )

    def open_invites(self, keeper_id: int, now: datetime) -> int:
        """How many invites a keeper has made that nobody has used and that still hold."""
        return int(self._db.execute(_OPEN_INVITES, {"keeper": keeper_id, "now": now}).scalar_one())

    def redeem(
        self,
        code_hash: str,
        *,
        name: str,
        front_end: str,
        address: str,
        settings: KeeperSettings,
        at: datetime,
    ) -> Keeper | None:
        """Lets the bearer of a code in, once: as a new keeper, or as the one of that address.

        A new helper gets the settings of the shelf's owner: zone, units, hours. ``None`` where the code is
        unknown, used or expired. One who is on that shelf for good already, or keeps one where the code is
        for that, comes back unchanged, and the code stays good. Who came in only to help keeps a shelf by
        it from then on, and is asked for settings of their own.
        """
        hold_row(self._db, _HOLD_INVITE, {"hash": code_hash})  # or two at once would both become keepers
        invite = self._db.execute(_OPEN_INVITE, {"hash": code_hash, "now": at}).first()
        if invite is None:
            return None
        keeper = self.by_contact(front_end, address)
        if keeper is not None and self._needs_none(keeper, invite.shelf_id):
            return keeper
        if keeper is None:
            helps = invite.shelf_id is not None and Role(invite.role) is Role.HELPER
            keeper = self.create(name, self.owner_of(invite.shelf_id).settings if helps else settings, at=at)
            self.link(keeper.id, front_end, address)
            if helps:
                self.mark_settled(keeper.id)
                keeper = self.get(keeper.id)
        self._db.execute(_REDEEM, {"number": invite.id, "now": at, "keeper": keeper.id})
        if invite.shelf_id is not None:
            self._join(invite.shelf_id, keeper.id, Role(invite.role), invite.from_day, invite.until_day)
        else:  # new, or one who has only helped so far with the settings of the shelf's owner
            self._db.execute(_SETTLED, {"number": keeper.id, "answered": False})
            keeper = self.get(keeper.id)
        return keeper

    def _needs_none(self, keeper: Keeper, shelf_id: int | None) -> bool:
        """Whether an invite gives a keeper nothing: they are on that shelf for good, or keep one already."""
        if shelf_id is None:
            return not Handovers(self._db).helps_only(keeper.id)
        return self._is_member(shelf_id, keeper.id)

    def owner_of(self, shelf_id: int) -> Keeper:
        """Whose shelf it is. Raises :class:`NotOnShelfError` where there is no such shelf."""
        row = self._db.execute(_OWNER, {"shelf": shelf_id}).first()
        if row is None:
            raise NotOnShelfError(f"There is no shelf {shelf_id}.")
        return _keeper_from(row)

    def _is_member(self, shelf_id: int, keeper_id: int) -> bool:
        chosen = {"shelf": shelf_id, "keeper": keeper_id}
        return self._db.execute(_IS_MEMBER, chosen).first() is not None


def _columns_of(settings: KeeperSettings) -> dict[str, Any]:
    values = {name: getattr(settings, name) for name in _SETTINGS}
    return values | {"units": settings.units.value, "date_order": settings.date_order.value}


def _keeper_from(row: AnyRow) -> Keeper:
    said = {name: getattr(row, name) for name in _SETTINGS}
    said |= {"units": Units(row.units), "date_order": DateOrder(row.date_order)}
    return Keeper(
        id=row.id,
        name=row.name,
        settings=KeeperSettings(**said),
        settled=row.settled,
        paused=row.paused,
        shelf_id=row.shelf_id,
        next_round_at=row.next_round_at,
    )
