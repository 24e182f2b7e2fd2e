"""Entries and specimens as rows of CSV, and back: RFC 4180, a header, one column for each field.

Text that a spreadsheet would take for a formula gets an apostrophe in front, which is taken off
again on reading. An empty cell says nothing.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from bot.commands.sheets import FORMULA, Fault, Row
from bot.terms import FIELDS_OF, Entry, Kind, PreySize, SacEvent, Sex, Specimen, WaterHow
from bot.terms.entry import JSON_NAMES
from bot.terms.shelf_file import ShelfFileError, specimen_from_json, specimen_to_json

SPECIMEN_COLUMNS: Final = (
    *("tag", "name", "species", "common", "aka", "sex", "stage", "span_cm", "habit", "place", "lot_size"),
    "added_on",
)
_FIELDS: Final = tuple(dict.fromkeys(name for names in FIELDS_OF.values() for name in names))
JOURNAL_COLUMNS: Final = ("tag", "day", "time", "kind", *(JSON_NAMES.get(name, name) for name in _FIELDS))
_PYTHON_NAMES: Final = MappingProxyType({JSON_NAMES.get(name, name): name for name in _FIELDS})

#: Columns with numbers in them, which may be written with a decimal comma.
NUMBERS: Final = frozenset(
    {
        *("span_cm", "lot_size", "count", "ml", "carapace_mm", "weight_g", "volume_l", "substrate_cm"),
        *("temp_c", "humidity_pct", "price"),
    }
)
_LISTS: Final = frozenset({"common", "aka"})
_NOT_EXACT: Final = "is not a plain number"


@dataclass(frozen=True, slots=True)
class Arrival:
    """A specimen, and the day on which it came onto the shelf where that is known."""

    specimen: Specimen
    on: date | None = None


class _CellError(ValueError):
    """A cell that cannot be read; the text is the problem."""


# --- writing --------------------------------------------------------------------------------


def write_csv(path: Path, columns: Sequence[str], rows: Sequence[Mapping[str, Any]]) -> None:
    """Writes rows under a header; CRLF line ends, UTF-8."""
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(columns)
        writer.writerows([_cell(row.get(column)) for column in columns] for row in rows)


def specimen_row(arrival: Arrival) -> dict[str, Any]:
    """The cells of a specimen."""
    card = specimen_to_json(arrival.specimen)
    return card | {"span_cm": arrival.specimen.span_cm, "added_on": arrival.on}


def journal_row(entry: Entry) -> dict[str, Any]:
    """The cells of an entry of one specimen, or of none."""
    details = {JSON_NAMES.get(name, name): value for name, value in entry.details().items()}
    head = {"tag": "".join(entry.specimens), "day": entry.day, "time": entry.time, "kind": entry.kind}
    return head | details


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return f"'{value}" if FORMULA.match(value) else value
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if value is True:
        return "true"
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    return "|".join(value) if isinstance(value, list) else str(value)


# --- reading --------------------------------------------------------------------------------


def specimen_of(row: Row[dict[str, str]]) -> Row[Arrival] | Fault:
    """The specimen of a row, or why it is none."""
    data: dict[str, Any] = dict(row.value)
    for column in _LISTS & data.keys():
        data[column] = [part.strip() for part in data[column].split("|") if part.strip()]
    for column in _SPECIMEN_PARSERS.keys() & data.keys():
        try:
            data[column] = _SPECIMEN_PARSERS[column](data[column])
        except _CellError as error:
            return Fault(row.number, column, str(error))
    try:
        return Row(row.number, Arrival(specimen_from_json(data, "row"), data.get("added_on")))
    except ShelfFileError as error:
        # "row, span_cm: …" or "row: species is missing"
        head, _, problem = str(error).partition(": ")
        column = head.removeprefix("row").removeprefix(", ")
        if not column:
            column, _, problem = problem.partition(" ")
        return Fault(row.number, column, problem)


def entry_of(row: Row[dict[str, str]]) -> Row[Entry] | list[Fault]:
    """The entry of a row, or everything that is wrong with it."""
    faults: list[Fault] = []
    values: dict[str, Any] = {"specimens": ()}
    for column, cell in row.value.items():
        name = _PYTHON_NAMES.get(column, column)
        try:
            if column == "tag":
                values["specimens"] = (cell.strip(),)
            else:
                values[name] = _PARSERS.get(name, str)(cell)
        except (_CellError, ValueError) as problem:
            told = str(problem) if isinstance(problem, _CellError) else f"{cell!r} cannot be read"
            faults.append(Fault(row.number, column, told))
    faults += [
        Fault(row.number, column, "is missing") for column in ("day", "kind") if column not in row.value
    ]
    if not faults:
        faults += _strangers(row, values["kind"])
    return faults or Row(row.number, Entry(**values))


def _strangers(row: Row[dict[str, str]], kind: Kind) -> Iterator[Fault]:
    known = {"tag", "day", "time", "kind", *(JSON_NAMES.get(name, name) for name in FIELDS_OF[kind])}
    for column in row.value.keys() - known:
        yield Fault(row.number, column, f"an entry of the kind {kind.value} has none")


def _one_of(words: type[StrEnum]) -> Callable[[str], StrEnum]:
    def parse(cell: str) -> StrEnum:
        try:
            return words(cell.strip())
        except ValueError:
            raise _CellError(f"{cell!r} is none of {', '.join(words)}") from None

    return parse


def _day(cell: str) -> date:
    try:
        return date.fromisoformat(cell.strip())
    except ValueError:
        raise _CellError(f"{cell!r} is not a date like 2026-05-14") from None


def _clock(cell: str) -> time:
    try:
        return time.fromisoformat(cell.strip()).replace(tzinfo=None)
    except ValueError:
        raise _CellError(f"{cell!r} is not a time like 19:30") from None


def _amount(cell: str) -> Decimal:
    try:
        amount = Decimal(cell.strip())
    except InvalidOperation:
        raise _CellError(f"{cell!r} {_NOT_EXACT}") from None
    if not amount.is_finite() or amount < 0:
        raise _CellError(f"{cell!r} {_NOT_EXACT}")
    if amount != round(amount, 3):
        raise _CellError(f"{cell!r} has more than three decimals")
    return amount


def _temperature(cell: str) -> Decimal:
    cell = cell.strip()
    return -_amount(cell[1:]) if cell.startswith("-") else _amount(cell)


def _whole(cell: str) -> int:
    if not re.fullmatch(r"[0-9]{1,9}", cell.strip()) or int(cell) < 1:
        raise _CellError(f"{cell!r} is not a whole number above 0")
    return int(cell)


def _yes(cell: str) -> bool:
    if cell.strip().lower() not in {"true", "yes", "1"}:
        raise _CellError(f"{cell!r} is not true; leave the cell empty instead")
    return True


_PARSERS: Final[Mapping[str, Callable[[str], Any]]] = MappingProxyType(
    {
        "kind": _one_of(Kind),
        "day": _day,
        "time": _clock,
        "size": _one_of(PreySize),
        "how": _one_of(WaterHow),
        "event": _one_of(SacEvent),
        "sex": lambda cell: _one_of(Sex)(cell).value,
        "count": _whole,
        "prekilled": _yes,
        "temp_c": _temperature,
        **dict.fromkeys(
            (
                *("ml", "span_cm", "carapace_mm", "weight_g", "volume_l", "substrate_cm"),
                *("humidity_pct", "price"),
            ),
            _amount,
        ),
    }
)

_SPECIMEN_PARSERS: Final[Mapping[str, Callable[[str], Any]]] = MappingProxyType(
    {"lot_size": _whole, "added_on": _day}
)
