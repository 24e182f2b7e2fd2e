"""Erasing a keeper on their word: the one place where rows of a journal are ever deleted.

What goes: the keeper's shelf with its whole journal, their contacts, dialogs, prompts, rounds, reminders,
invites, and every update and request of theirs that still stands in inbox or outbox. Those who have no
animals of their own and so talked of this shelf lose what their dialogs, prompts and answers quote of it.

What stays: what the keeper logged on others' shelves is those keepers' record, with nobody's name to it. What
others wrote of this shelf themselves is swept out of the inbox with everything that was handled.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from functools import partial
from typing import Any, Final

from sqlalchemy import BindParameter, Delete, Select, and_, bindparam, delete, func, or_, select, update

from bot.terms import KeeperSettings
from storage import tables as t
from storage.dialect import hold_row, overwrites_what_it_deletes
from storage.work import Work

_KEEPER: Final[BindParameter[int]] = bindparam("keeper")
_SHELF: Final = select(t.shelf.c.id).where(t.shelf.c.owner_id == _KEEPER).scalar_subquery()
_CHANGES: Final = select(t.change.c.id).where(t.change.c.shelf_id == _SHELF)
_ENTRIES: Final = select(t.entry.c.id).where(t.entry.c.change_id.in_(_CHANGES))
_OWN_SHELVES: Final = select(t.shelf.c.id).where(t.shelf.c.owner_id == _KEEPER)
_HOLD_SHELF: Final = select(t.shelf.c.id).where(t.shelf.c.owner_id == _KEEPER).with_for_update()

_IS_REMINDER: Final = or_(t.reminder.c.shelf_id == _SHELF, t.reminder.c.keeper_id == _KEEPER)
_REMINDERS: Final = select(t.reminder.c.id).where(_IS_REMINDER)

_OWN_SHELF: Final = t.shelf.alias("own_shelf")
_HAS_ANIMALS: Final = (
    select(t.specimen.c.id)
    .join_from(_OWN_SHELF, t.specimen, t.specimen.c.shelf_id == _OWN_SHELF.c.id)
    .where(_OWN_SHELF.c.owner_id == t.membership.c.keeper_id)
    .exists()
)
#: Who talked of this shelf for want of one of their own.
_TALKED_OF_IT: Final = select(t.membership.c.keeper_id).where(
    t.membership.c.shelf_id == _SHELF, t.membership.c.keeper_id != _KEEPER, ~_HAS_ANIMALS
)

_OTHERS_CONTACT: Final = t.contact.alias("others_contact")
#: Chats that are this keeper's and, at whatever front end, nobody else's.
_CHATS: Final = select(t.contact.c.address).where(
    t.contact.c.keeper_id == _KEEPER,
    ~select(_OTHERS_CONTACT.c.address)
    .where(_OTHERS_CONTACT.c.address == t.contact.c.address, _OTHERS_CONTACT.c.keeper_id != _KEEPER)
    .exists(),
)
_CAME_FROM_THEM: Final = (
    select(t.contact.c.address)
    .where(
        t.contact.c.keeper_id == _KEEPER,
        t.contact.c.front_end == t.inbox.c.source,
        or_(t.contact.c.address == t.inbox.c.chat, t.contact.c.address == t.inbox.c.writer),
    )
    .exists()
)

#: In the order in which nothing is referred to any more once it is its turn.
_STEPS: Final[tuple[Delete, ...]] = (
    delete(t.inbox).where(_CAME_FROM_THEM),
    delete(t.outbox).where(
        or_(
            t.outbox.c.keeper_id == _KEEPER,
            t.outbox.c.keeper_id.in_(_TALKED_OF_IT),
            and_(t.outbox.c.keeper_id.is_(None), t.outbox.c.chat.in_(_CHATS)),
        )
    ),
    *(
        delete(table).where(or_(table.c.keeper_id == _KEEPER, table.c.keeper_id.in_(_TALKED_OF_IT)))
        for table in (t.dialog, t.prompt)
    ),
    delete(t.photo).where(t.photo.c.shelf_id == _SHELF),
    delete(t.reminder_specimen).where(t.reminder_specimen.c.reminder_id.in_(_REMINDERS)),
    delete(t.reminder).where(_IS_REMINDER),
    delete(t.hold).where(t.hold.c.shelf_id == _SHELF),
    delete(t.schedule).where(t.schedule.c.shelf_id == _SHELF),
    delete(t.supersession).where(
        or_(t.supersession.c.change_id.in_(_CHANGES), t.supersession.c.entry_id.in_(_ENTRIES))
    ),
    delete(t.entry).where(t.entry.c.change_id.in_(_CHANGES)),
    delete(t.alteration).where(t.alteration.c.change_id.in_(_CHANGES)),
    delete(t.state).where(t.state.c.shelf_id == _SHELF),
    delete(t.specimen).where(t.specimen.c.shelf_id == _SHELF),
    delete(t.place).where(t.place.c.shelf_id == _SHELF),
    delete(t.occurrence).where(or_(t.occurrence.c.shelf_id == _SHELF, t.occurrence.c.keeper_id == _KEEPER)),
    delete(t.prompt).where(t.prompt.c.change_id.in_(_CHANGES)),
    delete(t.news).where(or_(t.news.c.shelf_id == _SHELF, t.news.c.keeper_id == _KEEPER)),
    delete(t.change).where(t.change.c.shelf_id == _SHELF),
    delete(t.handover).where(or_(t.handover.c.shelf_id == _SHELF, t.handover.c.by_keeper == _KEEPER)),
    delete(t.invite).where(or_(t.invite.c.shelf_id == _SHELF, t.invite.c.by_keeper == _KEEPER)),
    delete(t.membership).where(or_(t.membership.c.shelf_id == _SHELF, t.membership.c.keeper_id == _KEEPER)),
    delete(t.contact).where(t.contact.c.keeper_id == _KEEPER),
)
_REDEEMED: Final = update(t.invite).where(t.invite.c.redeemed_by == _KEEPER).values(redeemed_by=None)
_ELSEWHERE: Final = select(t.change.c.id).where(t.change.c.keeper_id == _KEEPER).limit(1)
_DROP_KEEPER: Final = (
    delete(t.shelf).where(t.shelf.c.owner_id == _KEEPER),
    delete(t.keeper).where(t.keeper.c.id == _KEEPER),
)
_NOBODY: Final[dict[str, Any]] = asdict(KeeperSettings()) | {
    "units": KeeperSettings().units.value,
    "date_order": KeeperSettings().date_order.value,
    "name": "",
    "paused": True,
    "settled": False,
    "next_round_at": None,
    "created_at": datetime(1970, 1, 1, tzinfo=UTC),
}
#: Their number stays for what they logged elsewhere; where they wrote it, which is an address, does not.
_FORGET_KEEPER: Final = (
    update(t.keeper).where(t.keeper.c.id == _KEEPER).values(**_NOBODY),
    update(t.change).where(t.change.c.keeper_id == _KEEPER).values(origin=None),
)


@dataclass(frozen=True, slots=True)
class Belongings:
    """How much there is of a keeper: animals living or gone, entries live or taken back, and how many
    others share the shelf."""

    animals: int
    entries: int
    sharers: int


def _count_of(query: Select[Any]) -> Select[Any]:
    return select(func.count()).select_from(query.subquery())


_COUNTS: Final = (
    _count_of(select(t.specimen.c.id).where(t.specimen.c.shelf_id == _SHELF)),
    _count_of(_ENTRIES),
    _count_of(
        select(t.membership.c.keeper_id)
        .where(t.membership.c.shelf_id == _SHELF, t.membership.c.keeper_id != _KEEPER)
        .distinct()
    ),
)


def belongings(work: Work, keeper_id: int) -> Belongings:
    """What :func:`erase` would take away."""
    return Belongings(
        *(work.connection.execute(count, {"keeper": keeper_id}).scalar_one() for count in _COUNTS)
    )


def erase(work: Work, keeper_id: int) -> None:
    """Deletes a keeper and all that is theirs, also the update that asks for it; see this module's head.

    The shelf's photo files go once the transaction is committed; where they were sent they stay. A keeper who
    logged on another's shelf leaves a number without a name; see :attr:`storage.records.Keeper.is_erased`.
    """
    chosen = {"keeper": keeper_id}
    if (album := work.album) is not None:
        for shelf_id in work.connection.execute(_OWN_SHELVES, chosen).scalars().all():
            work.afterwards.append(partial(album.forget_shelf, int(shelf_id)))
    with work.in_service(), overwrites_what_it_deletes(work.connection):
        hold_row(work.connection, _HOLD_SHELF, chosen)
        for step in (*_STEPS, _REDEEMED):
            work.connection.execute(step, chosen)
        kept_elsewhere = work.connection.execute(_ELSEWHERE, chosen).first() is not None
        for last in _FORGET_KEEPER if kept_elsewhere else _DROP_KEEPER:
            work.connection.execute(last, chosen)
