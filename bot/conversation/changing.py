"""What a correction makes of an entry, or why it does not fit. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from bot.terms import FIELDS_OF, Entry, KeeperSettings, Kind, Units
from bot.terms.entry import DECIMAL_FIELDS
from bot.terms.keeper import CM_PER_INCH

_ALWAYS: Final = frozenset({"kind", "day", "time", "specimens"})
#: What a bare figure can be about, in the order in which an entry tells it.
_FIGURES: Final = ("count", *DECIMAL_FIELDS)
#: Figures that somebody who goes by inches says in those, with the field's unit in one inch.
_IN_INCHES: Final = {"span_cm": CM_PER_INCH, "substrate_cm": CM_PER_INCH}


def fits(entry: Entry, changes: Mapping[str, Any]) -> bool:
    """Whether an entry has these fields."""
    kind = Kind(changes.get("kind", entry.kind))
    return all(name in _ALWAYS or name in FIELDS_OF[kind] for name in changes)


def replaced(entry: Entry, changes: Mapping[str, Any]) -> Entry:
    """The entry with these fields replaced."""
    kind = Kind(changes.get("kind", entry.kind))
    kept = {name: value for name, value in entry.details().items() if name in FIELDS_OF[kind]}
    values: dict[str, Any] = {
        "day": entry.day,
        "time": entry.time,
        "specimens": entry.specimens,
        **kept,
        **dict(changes),
        "kind": kind,
    }
    return Entry(**values)


def changed_row(entry: Entry, changes: Mapping[str, Any], settings: KeeperSettings) -> Entry | None:
    """The entry as it should be; ``None`` where the changes belong to no such entry."""
    meant = resolved(entry, changes, settings)
    return replaced(entry, meant) if meant is not None and fits(entry, meant) else None


def resolved(entry: Entry, changes: Mapping[str, Any], settings: KeeperSettings) -> dict[str, Any] | None:
    """The changes with a bare figure as what the entry measures; ``None`` where that is nothing, or two."""
    said = dict(changes)
    figure = said.pop("number", None)
    if figure is None and "count" in said and "count" not in FIELDS_OF[entry.kind]:
        figure = Decimal(said.pop("count"))  # "no, 14", of a span
    if figure is None:
        return said
    told = [name for name in _FIGURES if name in entry.details()]
    if len(told) != 1:
        return None
    value = figure * _unit_of(told[0], settings)
    if told[0] == "count":
        return {**said, "count": int(value)} if value == int(value) else None
    return {**said, told[0]: value}


def _unit_of(field: str, settings: KeeperSettings) -> Decimal:
    return _IN_INCHES.get(field, Decimal(1)) if settings.units is Units.US else Decimal(1)


def is_of(entry: Entry, was: Mapping[str, Any], settings: KeeperSettings) -> bool:
    """Whether an entry says what the keeper says that it said."""
    meant = resolved(entry, was, settings)
    if meant is None:
        return False
    return all(getattr(entry, name) == value for name, value in meant.items())
