"""Keepers, how they are reached, whose shelf they may see, and their dialogs."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any, ClassVar

from sqlalchemy import BigInteger, Boolean, Column, Date, ForeignKey, Index, SmallInteger, String, Time
from sqlmodel import Field

from storage.tables.base import Json, Stored, index_where, link, maybe, of, row_number
from storage.types import Instant, Words


class KeeperRow(Stored, table=True):
    """A person with a shelf; the settings are columns of the same names as in ``KeeperSettings``."""

    __tablename__ = "keeper"
    __table_args__: ClassVar[Any] = (
        index_where(
            "ix_keeper_round_due",
            "next_round_at",
            sqlite="next_round_at IS NOT NULL AND paused = 0",
            postgresql="next_round_at IS NOT NULL AND NOT paused",
        ),
    )

    id: int | None = row_number()
    name: str = of(Words)
    zone: str = of(String)
    units: str = of(String)
    date_order: str = of(String)
    language: str = of(String)
    round_time: time = of(Time)
    quiet_from: time = of(Time)
    quiet_to: time = of(Time)
    day_starts: time = of(Time)
    delivery_weekday: int | None = maybe(SmallInteger)
    round_days: str = of(String)
    round_hours: str = of(String)
    rounds_off_from: date | None = maybe(Date)
    rounds_off_until: date | None = maybe(Date)
    quiet_until: datetime | None = maybe(Instant)
    settled: bool = of(Boolean)
    paused: bool = of(Boolean)
    next_round_at: datetime | None = maybe(Instant)
    created_at: datetime = of(Instant)


class ContactRow(Stored, table=True):
    """Where a keeper is reached: an address at a front end, as a chat's number."""

    __tablename__ = "contact"

    front_end: str = Field(sa_column=Column(String, primary_key=True))
    address: str = Field(sa_column=Column(String, primary_key=True))
    keeper_id: int = link("keeper.id", index=True)


class ShelfRow(Stored, table=True):
    """All that one keeper keeps. ``revision`` grows with every change to who stands on it."""

    __tablename__ = "shelf"

    id: int | None = row_number()
    owner_id: int = link("keeper.id", unique=True)
    revision: int = of(BigInteger)


class MembershipRow(Stored, table=True):
    """Who may see a shelf, as what, and in which period (days of that keeper)."""

    __tablename__ = "membership"
    __table_args__: ClassVar[Any] = (Index(None, "keeper_id"), Index(None, "shelf_id"))

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    keeper_id: int = link("keeper.id")
    role: str = of(String)
    from_day: date | None = maybe(Date)
    until_day: date | None = maybe(Date)


class InviteRow(Stored, table=True):
    """A code that lets one person in, once, perhaps for a period. Only the code's hash is kept."""

    __tablename__ = "invite"

    id: int | None = row_number()
    shelf_id: int | None = link("shelf.id", nullable=True)
    role: str = of(String)
    code_hash: str = of(String, unique=True)
    by_keeper: int = link("keeper.id")
    created_at: datetime = of(Instant)
    expires_at: datetime = of(Instant)
    from_day: date | None = maybe(Date)
    until_day: date | None = maybe(Date)
    redeemed_at: datetime | None = maybe(Instant)
    redeemed_by: int | None = link("keeper.id", nullable=True)


class HandoverRow(Stored, table=True):
    """A period in which somebody else looks after a shelf. Who that is, its invite's redeeming tells.

    ``called`` is what the keeper calls them; ``settled`` that the keeper has had the summary.
    """

    __tablename__ = "handover"
    __table_args__: ClassVar[Any] = (Index(None, "shelf_id"), Index(None, "invite_id"))

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    by_keeper: int = link("keeper.id")
    invite_id: int = link("invite.id")
    called: str = of(Words)
    first_day: date = of(Date)
    last_day: date = of(Date)
    settled: bool = of(Boolean)


class DialogRow(Stored, table=True):
    """What a conversation has to keep in mind between two messages of one keeper in one chat."""

    __tablename__ = "dialog"
    __table_args__: ClassVar[Any] = (Index(None, "chat"),)

    keeper_id: int = Field(sa_column=Column(BigInteger, ForeignKey("keeper.id"), primary_key=True))
    chat: str = Field(sa_column=Column(String, primary_key=True))
    mind: dict[str, Any] = of(Json)
