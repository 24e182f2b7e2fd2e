"""Entries and specimens to rows, and rows back to entries and specimens."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields, replace
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final

from bot.terms import Entry, Habit, Kind, PreySize, SacEvent, Sex, Specimen, Stage, WaterHow
from storage import tables as t
from storage.dialect import AnyRow
from storage.errors import NotStorableError
from storage.records import Change, JournalEntry, StoredSpecimen
from storage.types import exact, storable_words

#: The fields of an entry that are columns of the same name; its tags become the specimen's number.
ENTRY_FIELDS: Final[tuple[str, ...]] = tuple(f.name for f in fields(Entry) if f.name != "specimens")
_SAID: Final = tuple(name for name in ENTRY_FIELDS if name not in {"kind", "day", "time", "prekilled"})
_ENUMS: Final[Mapping[str, type[StrEnum]]] = MappingProxyType(
    {"size": PreySize, "how": WaterHow, "event": SacEvent}
)
_MOST_COUNTED: Final = 1_000_000_000

#: What is read of an entry, in the order of :data:`ENTRY_FIELDS`.
ENTRY_COLUMNS: Final = tuple(t.entry.c[name] for name in ENTRY_FIELDS)
#: Members by value: calling an enum costs ten times as much, for each entry of years of them.
_KINDS: Final[Mapping[str, Kind]] = {kind.value: kind for kind in Kind}
_MEMBERS: Final = tuple((name, {member.value: member for member in kind}) for name, kind in _ENUMS.items())


def as_stored(entry: Entry) -> Entry:
    """The entry as it will read when it is read back: amounts in whole thousandths, storable text.

    Raises :class:`NotStorableError` for amounts and counts beyond what can be kept.
    """
    changed: dict[str, Any] = {}
    for name in _SAID:
        value = getattr(entry, name)
        if value is None or isinstance(value, StrEnum):
            continue
        kept = _storable(value)
        if kept is not value:
            changed[name] = kept
    return replace(entry, **changed) if changed else entry


def _storable(value: Any) -> Any:
    if isinstance(value, str):
        return storable_words(value)
    if isinstance(value, Decimal | float):
        return exact(value)  # type: ignore[arg-type]  # a float is refused there
    if abs(value) > _MOST_COUNTED:
        raise NotStorableError("That count is too large to be stored.")
    return value


def entry_row(
    entry: Entry, *, zone: str, change_id: int, shelf_id: int, specimen_id: int | None
) -> dict[str, Any]:
    """The row of one entry for one specimen."""
    row: dict[str, Any] = {name: getattr(entry, name) for name in ENTRY_FIELDS}
    row["kind"] = entry.kind.value
    for name in _ENUMS:
        if row[name] is not None:
            row[name] = str(row[name])
    row["zone"] = zone
    row["change_id"] = change_id
    row["shelf_id"] = shelf_id
    row["specimen_id"] = specimen_id
    row["live"] = True
    return row


def entry_from(values: Iterable[Any], tag: str | None) -> Entry:
    """The entry of the values of :data:`ENTRY_COLUMNS`."""
    said = {name: value for name, value in zip(ENTRY_FIELDS, values, strict=True) if value is not None}
    said["kind"] = _KINDS[said["kind"]]
    for name, members in _MEMBERS:
        if name in said:
            said[name] = members[said[name]]
    return Entry(specimens=() if tag is None else (tag,), **said)


#: What is read of a specimen to say who it is.
CARD_COLUMNS: Final = (
    *(t.specimen.c[name] for name in ("tag", "name", "species", "common", "aka", "sex", "stage")),
    *(t.specimen.c[name] for name in ("span_cm", "habit", "lot_size")),
    t.place.c.name.label("place"),
)
#: What is read of a specimen.
SPECIMEN_COLUMNS: Final = (
    *CARD_COLUMNS,
    *(t.specimen.c[name] for name in ("id", "position", "added_on", "gone_on")),
)


#: Members by value: calling an enum costs ten times as much, for each animal of each round.
SEXES: Final = {sex.value: sex for sex in Sex}
STAGES: Final = {stage.value: stage for stage in Stage}
HABITS: Final = {habit.value: habit for habit in Habit}


def card_from(values: Sequence[Any]) -> Specimen:
    """Who the specimen of the values of :data:`CARD_COLUMNS` is."""
    # by their order: asking a row for each by its name takes longer than all the rest
    tag, name, species, common, aka, sex, stage, span_cm, habit, lot_size, place = values
    return Specimen(
        tag=tag,
        species=species,
        name=name,
        common=tuple(common),
        aka=tuple(aka),
        sex=SEXES[sex],
        stage=STAGES[stage],
        span_cm=span_cm,
        habit=HABITS[habit],
        place=place,
        lot_size=lot_size,
    )


def specimen_from(row: AnyRow) -> StoredSpecimen:
    """The specimen of a row of :data:`SPECIMEN_COLUMNS`."""
    return StoredSpecimen(
        id=row.id,
        specimen=card_from(row[: len(CARD_COLUMNS)]),
        added_on=row.added_on,
        gone_on=row.gone_on,
        position=row.position,
    )


def change_from(row: AnyRow) -> Change:
    """The change of a row of its table."""
    return Change(
        id=row.id,
        shelf_id=row.shelf_id,
        keeper_id=row.keeper_id,
        at=row.at,
        origin=row.origin,
        undone_at=row.undone_at,
    )


def journal_entry(
    number: int, change: Change, entry: Entry, *, zone: str, specimen_id: int | None
) -> JournalEntry:
    """A new entry with where it comes from."""
    return JournalEntry(
        id=number,
        change_id=change.id,
        entry=entry,
        recorded_at=change.at,
        zone=zone,
        by=change.keeper_id,
        live=True,
        specimen_id=specimen_id,
    )
