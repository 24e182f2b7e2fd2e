"""What comes in, what goes out, and what waits for its time or its answer."""

from __future__ import annotations

import datetime as dt
from typing import Any, ClassVar

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Date,
    ForeignKey,
    Index,
    Integer,
    String,
    Time,
    UniqueConstraint,
    false,
)
from sqlmodel import Field

from storage.tables.base import Json, Stored, index_where, link, maybe, of, row_number
from storage.types import Instant, RowNumber, Words

_INBOX_WAITS = "done_at IS NULL AND aside_at IS NULL"
_INBOX_ASIDE = "aside_at IS NOT NULL"
_OUTBOX_WAITS = "sent_at IS NULL AND failed_at IS NULL"


class BookmarkRow(Stored, table=True):
    """Where a part of the program stopped reading, or what it noted last, by the part's own name."""

    __tablename__ = "bookmark"

    name: str = Field(sa_column=Column(String, primary_key=True))
    mark: dict[str, Any] = of(Json)


class InboxRow(Stored, table=True):
    """An update as it came, stored before its sender is told; handled once.

    ``writer`` is who wrote it, as an address at the front end: in a group's chat, one of many.
    """

    __tablename__ = "inbox"
    __table_args__: ClassVar[Any] = (
        UniqueConstraint("source", "update_id"),
        index_where("ix_inbox_waiting", "id", sqlite=_INBOX_WAITS, postgresql=_INBOX_WAITS),
        index_where("ix_inbox_waiting_chat", "chat", "id", sqlite=_INBOX_WAITS, postgresql=_INBOX_WAITS),
        index_where("ix_inbox_aside_chat", "chat", sqlite=_INBOX_ASIDE, postgresql=_INBOX_ASIDE),
    )

    id: int | None = row_number()
    source: str = of(String)
    update_id: int = of(BigInteger)
    chat: str = of(String)
    payload: dict[str, Any] = of(Json)
    at: dt.datetime = of(Instant)
    writer: str | None = maybe(String)
    done_at: dt.datetime | None = maybe(Instant)
    aside_at: dt.datetime | None = maybe(Instant)
    why: str | None = maybe(Words)


class OutboxRow(Stored, table=True):
    """A request to a front end, sent at least once. ``not_before`` moves on when it is tried."""

    __tablename__ = "outbox"
    __table_args__: ClassVar[Any] = (
        index_where("ix_outbox_waiting", "not_before", "id", sqlite=_OUTBOX_WAITS, postgresql=_OUTBOX_WAITS),
        index_where("ix_outbox_waiting_chat", "chat", "id", sqlite=_OUTBOX_WAITS, postgresql=_OUTBOX_WAITS),
    )

    id: int | None = row_number()
    keeper_id: int | None = link("keeper.id", nullable=True)
    chat: str = of(String)
    method: str = of(String)
    payload: dict[str, Any] = of(Json)
    key: str | None = maybe(String, unique=True)
    at: dt.datetime = of(Instant)
    not_before: dt.datetime = of(Instant)
    tries: int = of(Integer)
    why: str | None = maybe(Words)
    sent_at: dt.datetime | None = maybe(Instant)
    failed_at: dt.datetime | None = maybe(Instant)
    message_ref: str | None = maybe(String)


class PromptRow(Stored, table=True):
    """What the buttons of a reply stand for; answered once. Numbers are never used again."""

    __tablename__ = "prompt"
    __table_args__: ClassVar[Any] = (
        Index(None, "keeper_id", "chat", "number"),
        Index(None, "keeper_id", "chat", "message_ref"),
        Index(None, "chat"),
        {"sqlite_autoincrement": True},
    )

    number: int | None = Field(default=None, sa_column=Column(RowNumber, primary_key=True))
    keeper_id: int = link("keeper.id")
    chat: str = of(String)
    actions: list[dict[str, Any]] = of(Json)
    pending: dict[str, Any] | None = maybe(Json)
    change_id: int | None = link("change.id", nullable=True, index=True)
    message_ref: str | None = maybe(String)
    at: dt.datetime = of(Instant)
    answered_at: dt.datetime | None = maybe(Instant)


class OccurrenceRow(Stored, table=True):
    """One day's round of a keeper, with its tasks and how far they are done.

    ``shown_in`` are the messages that show it: chat, number of the prompt, and how far it was done there.
    """

    __tablename__ = "occurrence"
    __table_args__: ClassVar[Any] = (UniqueConstraint("keeper_id", "day"),)

    id: int | None = row_number()
    keeper_id: int = link("keeper.id")
    shelf_id: int = link("shelf.id", index=True)
    day: dt.date = of(Date)
    due_at: dt.datetime = of(Instant)
    tasks: list[dict[str, Any]] = of(Json)
    opened_at: dt.datetime = of(Instant)
    closed_at: dt.datetime | None = maybe(Instant)
    shown_in: list[list[Any]] | None = maybe(Json)


class NewsRow(Stored, table=True):
    """A change of a shelf that another of its keepers has still to hear of, or has heard of."""

    __tablename__ = "news"
    __table_args__: ClassVar[Any] = (
        index_where(
            "ix_news_waiting", "due_at", "keeper_id", sqlite="told_at IS NULL", postgresql="told_at IS NULL"
        ),
    )

    id: int | None = row_number()
    keeper_id: int = link("keeper.id", index=True)
    shelf_id: int = link("shelf.id", index=True)
    change_id: int = link("change.id", index=True)
    at: dt.datetime = of(Instant)
    due_at: dt.datetime = of(Instant)
    told_at: dt.datetime | None = maybe(Instant)


class ReminderRow(Stored, table=True):
    """What a keeper wants to be told, and when next; an instant, with the wall time it stands for."""

    __tablename__ = "reminder"
    __table_args__: ClassVar[Any] = (
        index_where(
            "ix_reminder_due",
            "next_at",
            sqlite="live = 1 AND ended = 0",
            postgresql="live AND NOT ended",
        ),
    )

    id: int | None = row_number()
    shelf_id: int = link("shelf.id", index=True)
    keeper_id: int = link("keeper.id")
    change_id: int = link("change.id", index=True)
    what: str = of(Words)
    next_at: dt.datetime = of(Instant)
    day: dt.date | None = maybe(Date)
    time: dt.time | None = maybe(Time)
    repeats: str | None = maybe(String)
    from_done: bool = of(Boolean, server_default=false())
    of_round: bool = of(Boolean, server_default=false())
    zone: str = of(String)
    live: bool = of(Boolean)
    ended: bool = of(Boolean)


class ReminderSpecimenRow(Stored, table=True):
    """Whom a reminder is about."""

    __tablename__ = "reminder_specimen"

    reminder_id: int = Field(
        sa_column=Column(BigInteger, ForeignKey("reminder.id"), primary_key=True, autoincrement=False)
    )
    specimen_id: int = Field(
        sa_column=Column(
            BigInteger, ForeignKey("specimen.id"), primary_key=True, autoincrement=False, index=True
        )
    )
