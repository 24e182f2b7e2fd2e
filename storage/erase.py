"""Erasing a keeper on their word: the one place where rows of a journal are ever deleted."""

from __future__ import annotations

from typing import Final

from sqlalchemy import Delete, bindparam, delete, or_, select, update

from storage import tables as t
from storage.dialect import hold_row
from storage.work import Work

_SHELF: Final = select(t.shelf.c.id).where(t.shelf.c.owner_id == bindparam("keeper")).scalar_subquery()
_CHANGES: Final = select(t.change.c.id).where(t.change.c.shelf_id == _SHELF)
_ENTRIES: Final = select(t.entry.c.id).where(t.entry.c.change_id.in_(_CHANGES))
_REMINDERS: Final = select(t.reminder.c.id).where(t.reminder.c.shelf_id == _SHELF)
_CHATS: Final = select(t.contact.c.address).where(t.contact.c.keeper_id == bindparam("keeper"))
_HOLD_SHELF: Final = select(t.shelf.c.id).where(t.shelf.c.owner_id == bindparam("keeper")).with_for_update()

#: In the order in which nothing is referred to any more once it is its turn.
_OF_SHELF: Final[tuple[Delete, ...]] = (
    delete(t.photo).where(t.photo.c.shelf_id == _SHELF),
    delete(t.reminder_specimen).where(t.reminder_specimen.c.reminder_id.in_(_REMINDERS)),
    delete(t.reminder).where(t.reminder.c.shelf_id == _SHELF),
    delete(t.hold).where(t.hold.c.shelf_id == _SHELF),
    delete(t.supersession).where(
        or_(t.supersession.c.change_id.in_(_CHANGES), t.supersession.c.entry_id.in_(_ENTRIES))
    ),
    delete(t.entry).where(t.entry.c.change_id.in_(_CHANGES)),
    delete(t.alteration).where(t.alteration.c.change_id.in_(_CHANGES)),
    delete(t.state).where(t.state.c.shelf_id == _SHELF),
    delete(t.specimen).where(t.specimen.c.shelf_id == _SHELF),
    delete(t.place).where(t.place.c.shelf_id == _SHELF),
    delete(t.occurrence).where(
        or_(t.occurrence.c.shelf_id == _SHELF, t.occurrence.c.keeper_id == bindparam("keeper"))
    ),
    delete(t.prompt).where(t.prompt.c.change_id.in_(_CHANGES)),
    delete(t.change).where(t.change.c.shelf_id == _SHELF),
    delete(t.invite).where(or_(t.invite.c.shelf_id == _SHELF, t.invite.c.by_keeper == bindparam("keeper"))),
    delete(t.membership).where(t.membership.c.shelf_id == _SHELF),
)
_OF_KEEPER: Final[tuple[Delete, ...]] = (
    delete(t.dialog).where(t.dialog.c.keeper_id == bindparam("keeper")),
    delete(t.prompt).where(t.prompt.c.keeper_id == bindparam("keeper")),
    delete(t.outbox).where(or_(t.outbox.c.keeper_id == bindparam("keeper"), t.outbox.c.chat.in_(_CHATS))),
    delete(t.inbox).where(t.inbox.c.chat.in_(_CHATS), t.inbox.c.done_at.is_not(None)),
    delete(t.membership).where(t.membership.c.keeper_id == bindparam("keeper")),
    delete(t.contact).where(t.contact.c.keeper_id == bindparam("keeper")),
)
_ELSEWHERE: Final = select(t.change.c.id).where(t.change.c.keeper_id == bindparam("keeper")).limit(1)
_REDEEMED: Final = (
    update(t.invite).where(t.invite.c.redeemed_by == bindparam("keeper")).values(redeemed_by=None)
)
_DROP_KEEPER: Final = (
    delete(t.shelf).where(t.shelf.c.owner_id == bindparam("keeper")),
    delete(t.keeper).where(t.keeper.c.id == bindparam("keeper")),
)
_FORGET_NAME: Final = (
    update(t.keeper)
    .where(t.keeper.c.id == bindparam("keeper"))
    .values(name="", paused=True, settled=False, next_round_at=None)
)


def erase(work: Work, keeper_id: int) -> None:
    """Deletes a keeper: their shelf with its whole journal, their contacts, and what they wrote.

    What they logged on others' shelves is those keepers' record and stays, with nobody's name to it.
    Photo files are the caller's to delete; see :meth:`storage.photos.Photos.of` before. An update that
    is being handled stays until it is done, so that it is not taken in again.
    """
    chosen = {"keeper": keeper_id}
    hold_row(work.connection, _HOLD_SHELF, chosen)
    for step in (*_OF_SHELF, *_OF_KEEPER, _REDEEMED):
        work.connection.execute(step, chosen)
    kept_elsewhere = work.connection.execute(_ELSEWHERE, chosen).first() is not None
    for last in (_FORGET_NAME,) if kept_elsewhere else _DROP_KEEPER:
        work.connection.execute(last, chosen)
