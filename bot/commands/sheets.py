"""Tables as text by column, from xlsx and CSV: as RFC 4180 has it, and with semicolons and decimal commas.

A cell that a spreadsheet would take for a formula has an apostrophe in front, which is taken off. An empty
cell says nothing.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any, Final, Generic, TypeVar
from zipfile import BadZipFile

T = TypeVar("T")

FORMULA: Final = re.compile(r"'*[=+\-@\t\r]")
_WITH_COMMA: Final = re.compile(r"-?[0-9]+,[0-9]+")
XLSX: Final = ".xlsx"


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a row cannot be taken: rows are numbered as a spreadsheet shows them, the header being 1."""

    row: int
    column: str
    problem: str


@dataclass(frozen=True, slots=True)
class Row(Generic[T]):
    """What one row of a file says."""

    number: int
    value: T


Table = tuple[list[Row[dict[str, str]]], list[Fault]]


def read_table(path: Path, columns: Sequence[str], *, numbers: Collection[str]) -> Table:
    """The rows of a file as text by column, empty cells left out, and what is wrong with their shape.

    ``numbers`` are the columns in which a comma is a decimal point where semicolons stand between cells.
    Raises ``UnicodeDecodeError`` for a CSV file that is not UTF-8.
    """
    return _read_xlsx(path, columns) if path.suffix.lower() == XLSX else _read_csv(path, columns, numbers)


def _read_csv(path: Path, columns: Sequence[str], numbers: Collection[str]) -> Table:
    """A byte order mark is skipped."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        head = file.readline()
        semicolons = ";" in head and "," not in head
        file.seek(0)
        lines = csv.reader(file, strict=True, delimiter=";" if semicolons else ",")
        rows, faults = _by_column(_told(lines), columns)
    if semicolons:
        rows = [Row(row.number, _with_points(row.value, numbers)) for row in rows]
    return rows, faults


def _told(lines: Any) -> Iterator[tuple[int, list[str] | str]]:
    """Rows with their numbers; where the file is no CSV, why not, and nothing after it."""
    try:
        yield from enumerate(lines, 1)
    except csv.Error as error:
        yield lines.line_num, f"is not CSV: {error}"


def _with_points(cells: dict[str, str], numbers: Collection[str]) -> dict[str, str]:
    return {
        column: cell.replace(",", ".") if column in numbers and _WITH_COMMA.fullmatch(cell.strip()) else cell
        for column, cell in cells.items()
    }


def _read_xlsx(path: Path, columns: Sequence[str]) -> Table:
    """The first sheet of a workbook; of a formula the value that was there when it was saved."""
    from openpyxl import load_workbook  # noqa: PLC0415  only where a workbook is read
    from openpyxl.utils.exceptions import InvalidFileException  # noqa: PLC0415

    try:
        book = load_workbook(path, read_only=True, data_only=True)
    except (BadZipFile, InvalidFileException, KeyError, ValueError, OSError):
        return [], [Fault(1, "", "the file is no workbook; save it as xlsx, or as CSV UTF-8")]
    try:
        sheet = book.worksheets[0]
        lines = ((n, [_cell_text(cell) for cell in cells]) for n, cells in enumerate(sheet.values, 1))
        return _by_column(_as_wide_as_the_header(lines), columns)
    finally:
        book.close()


def _as_wide_as_the_header(lines: Iterable[tuple[int, list[str]]]) -> Iterator[tuple[int, list[str]]]:
    """Rows without the empty cells that a sheet has to their right, and rows of nothing as no cells."""
    width = 0
    for number, cells in lines:
        told = len(cells)
        while told and not cells[told - 1]:
            told -= 1
        width = width or told
        yield number, ([*cells[:width], *cells[width:told]] if told else [])


def _cell_text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if isinstance(value, bool):
        return "true" if value else ""
    if isinstance(value, float):
        return f"{value:.0f}" if value.is_integer() else repr(round(value, 9))
    return str(value)


def _by_column(lines: Iterable[tuple[int, list[str] | str]], columns: Sequence[str]) -> Table:
    rows: list[Row[dict[str, str]]] = []
    faults: list[Fault] = []
    header: list[str] | None = None
    for number, cells in lines:
        if isinstance(cells, str):
            faults.append(Fault(number, "", cells))
        elif header is None:
            header = [cell.strip() for cell in cells]
            faults += _header_faults(header, columns)
        elif len(cells) == len(header):
            rows.append(Row(number, _said(header, cells)))
        elif cells:
            faults.append(Fault(number, "", f"has {len(cells)} cells, the header {len(header)}"))
    if header is None:
        names = ", ".join(columns)
        faults.append(Fault(1, "", f"the file is empty; its first row names the columns: {names}"))
    return rows, faults


def _said(header: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    return {
        column: cell[1:] if cell.startswith("'") and FORMULA.match(cell) else cell
        for column, cell in zip(header, cells, strict=True)
        if cell.strip()
    }


def _header_faults(header: Sequence[str], columns: Sequence[str]) -> Iterator[Fault]:
    for column in dict.fromkeys(header):
        if column not in columns:
            yield Fault(1, column, f"there is no such column; known are {', '.join(columns)}")
        elif header.count(column) > 1:
            yield Fault(1, column, "the column is there twice")
