"""What stands on a shelf: places, specimens, their alterations, their state, holds, how often they eat."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
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
)
from sqlmodel import Field

from storage.tables.base import Json, Stored, index_where, link, maybe, of, row_number
from storage.types import Thousandths, Words


class PlaceRow(Stored, table=True):
    """Where enclosures stand."""

    __tablename__ = "place"
    __table_args__: ClassVar[Any] = (UniqueConstraint("shelf_id", "key"),)

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    name: str = of(Words)
    key: str = of(Words)


class SpecimenRow(Stored, table=True):
    """One animal or lot as it is now.

    ``added_as`` is what it was added as; the other columns are that, overlaid with the alterations
    in force and with what the journal adds up to. ``void`` is set while its adding is undone.
    """

    __tablename__ = "specimen"
    __table_args__: ClassVar[Any] = (
        index_where(
            "uq_specimen_living_tag",
            "shelf_id",
            "tag_key",
            sqlite="gone_on IS NULL AND void = 0",
            postgresql="gone_on IS NULL AND NOT void",
            unique=True,
        ),
        Index(None, "shelf_id", "tag_key"),
        Index(None, "shelf_id", "position"),
    )

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    change_id: int = link("change.id", index=True)
    tag: str = of(Words)
    tag_key: str = of(Words)
    name: str | None = maybe(Words)
    name_key: str | None = maybe(Words)
    species: str = of(Words)
    common: list[str] = of(Json)
    aka: list[str] = of(Json)
    sex: str = of(String)
    stage: str = of(String)
    span_cm: Decimal | None = maybe(Thousandths)
    habit: str = of(String)
    place_id: int | None = link("place.id", nullable=True, index=True)
    lot_size: int = of(Integer)
    feed_every: int | None = maybe(Integer)
    water_every: int | None = maybe(Integer)
    dish_every: int | None = maybe(Integer)
    mist_every: int | None = maybe(Integer)
    position: int = of(BigInteger)
    added_on: date = of(Date)
    gone_on: date | None = maybe(Date)
    void: bool = of(Boolean)
    added_as: dict[str, Any] = of(Json)


class AlterationRow(Stored, table=True):
    """A change to who a specimen is: fields and their new values. In force while its change is."""

    __tablename__ = "alteration"

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    change_id: int = link("change.id", index=True)
    specimen_id: int = link("specimen.id", index=True)
    fields: dict[str, Any] = of(Json)


class StateRow(Stored, table=True):
    """What a specimen's live entries add up to, kept in the transaction that writes them.

    ``facts`` holds the fields of ``SpecimenState`` that are not at their default. The last entry
    folded in tells whether a new one may simply be added on top.
    """

    __tablename__ = "state"

    specimen_id: int = Field(
        sa_column=Column(BigInteger, ForeignKey("specimen.id"), primary_key=True, autoincrement=False)
    )
    shelf_id: int = link("shelf.id", index=True)
    facts: dict[str, Any] = of(Json)
    last_day: date | None = maybe(Date)
    last_time: time | None = maybe(Time)


class HoldRow(Stored, table=True):
    """The keeper's word on feeding prompts: held from a day on (``starts``), or resumed from it."""

    __tablename__ = "hold"
    __table_args__: ClassVar[Any] = (
        index_where("ix_hold_live", "shelf_id", "specimen_id", "id", sqlite="live = 1", postgresql="live"),
    )

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    change_id: int = link("change.id", index=True)
    specimen_id: int = link("specimen.id", index=True)
    starts: bool = of(Boolean)
    on_day: date = of(Date)
    until_day: date | None = maybe(Date)
    live: bool = of(Boolean)


class ScheduleRow(Stored, table=True):
    """The keeper's word on how often: the latest live row of a work and group counts.

    ``every_days`` is empty where the rule holds again. Of the work ``slow`` it is the months that count, from
    the first to the last, both inclusive; empty where there are none any more.
    """

    __tablename__ = "schedule"
    __table_args__: ClassVar[Any] = (
        index_where("ix_schedule_live", "shelf_id", "id", sqlite="live = 1", postgresql="live"),
    )

    id: int | None = row_number()
    shelf_id: int = link("shelf.id")
    change_id: int = link("change.id", index=True)
    work: str = of(String)
    scope: str = of(String)
    value: str | None = maybe(Words)
    every_days: int | None = maybe(Integer)
    first_month: int | None = maybe(Integer)
    last_month: int | None = maybe(Integer)
    live: bool = of(Boolean)
