"""The journal: changes, entries, which entry a change supersedes, and photos."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any, ClassVar

from sqlalchemy import BigInteger, Boolean, Column, Date, ForeignKey, Index, Integer, String, Time
from sqlmodel import Field

from storage.tables.base import Stored, index_where, link, maybe, of, row_number
from storage.types import Instant, Thousandths, Words


class ChangeRow(Stored, table=True):
    """All that one message did; undone and redone as one. ``origin`` tells which message it was."""

    __tablename__ = "change"
    __table_args__: ClassVar[Any] = (Index(None, "shelf_id", "keeper_id", "id"),)

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    keeper_id: int = link("keeper.id")
    at: dt.datetime = of(Instant)
    origin: str | None = maybe(String, index=True)
    undone_at: dt.datetime | None = maybe(Instant)


class EntryRow(Stored, table=True):
    """One thing that happened to one specimen, or to the shelf. Only ``live`` is ever written again."""

    __tablename__ = "entry"
    __table_args__: ClassVar[Any] = (
        index_where("ix_entry_shelf_day", "shelf_id", "day", "id", sqlite="live = 1", postgresql="live"),
        index_where(
            "ix_entry_shelf_kind_day", "shelf_id", "kind", "day", "id", sqlite="live = 1", postgresql="live"
        ),
        index_where(
            "ix_entry_specimen_day", "specimen_id", "day", "id", sqlite="live = 1", postgresql="live"
        ),
    )

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    change_id: int = link("change.id", index=True)
    specimen_id: int | None = link("specimen.id", nullable=True)
    live: bool = of(Boolean)
    kind: str = of(String)
    day: dt.date = of(Date)
    time: dt.time | None = maybe(Time)
    zone: str = of(String)
    prey: str | None = maybe(Words)
    count: int | None = maybe(BigInteger)
    size: str | None = maybe(String)
    prekilled: bool = of(Boolean)
    how: str | None = maybe(String)
    ml: Decimal | None = maybe(Thousandths)
    span_cm: Decimal | None = maybe(Thousandths)
    carapace_mm: Decimal | None = maybe(Thousandths)
    weight_g: Decimal | None = maybe(Thousandths)
    volume_l: Decimal | None = maybe(Thousandths)
    substrate_cm: Decimal | None = maybe(Thousandths)
    temp_c: Decimal | None = maybe(Thousandths)
    humidity_pct: Decimal | None = maybe(Thousandths)
    place: str | None = maybe(Words)
    sex: str | None = maybe(String)
    species: str | None = maybe(Words)
    price: Decimal | None = maybe(Thousandths)
    currency: str | None = maybe(String)
    source: str | None = maybe(Words)
    to: str | None = maybe(Words)
    partner: str | None = maybe(Words)
    event: str | None = maybe(String)
    note: str | None = maybe(Words)


class SupersessionRow(Stored, table=True):
    """A change took the place of an entry; in force while the change is."""

    __tablename__ = "supersession"

    entry_id: int = Field(
        sa_column=Column(BigInteger, ForeignKey("entry.id"), primary_key=True, autoincrement=False)
    )
    change_id: int = Field(
        sa_column=Column(
            BigInteger, ForeignKey("change.id"), primary_key=True, autoincrement=False, index=True
        )
    )


class PhotoRow(Stored, table=True):
    """A picture of a specimen, or of the shelf; the file itself lies beside the store."""

    __tablename__ = "photo"

    id: int | None = row_number()
    shelf_id: int = link("shelf.id", index=True)
    change_id: int = link("change.id", index=True)
    specimen_id: int | None = link("specimen.id", nullable=True, index=True)
    reference: str = of(Words)
    path: str | None = maybe(Words)
    at: dt.datetime = of(Instant)
    width: int | None = maybe(Integer)
    height: int | None = maybe(Integer)
