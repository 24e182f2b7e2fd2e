"""Common sheets of labels, from ``label_sheets.yaml``, and what lies on them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import count
from typing import TYPE_CHECKING, Any, TypeVar

from bot.terms.data_file import data_of

if TYPE_CHECKING:
    from bot.pictures.paper.page import Paper

Pair = tuple[float, float]
Box = tuple[float, float, float, float]
_Thing = TypeVar("_Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheet:
    """Where the labels lie on a sheet, in mm; ``grid`` is columns and rows."""

    key: str
    about: str
    page: Pair
    grid: tuple[int, int]
    label: Pair
    first: Pair
    step: Pair

    @property
    def on_a_page(self) -> int:
        """Labels on one page."""
        return self.grid[0] * self.grid[1]

    def places(self, start: int = 0) -> Iterator[tuple[int, float, float]]:
        """Page (from 0), left and top of every label without end, row by row, past ``start`` used ones."""
        columns = self.grid[0]
        for number in count(start):
            page, place = divmod(number, self.on_a_page)
            row, column = divmod(place, columns)
            yield page, self.first[0] + column * self.step[0], self.first[1] + row * self.step[1]


def laid_out(
    paper: Paper, sheet: LabelSheet, things: Iterable[_Thing], start: int = 0
) -> Iterator[tuple[_Thing, Box]]:
    """Each thing with its place on the sheet (left, top, width, height), on the paper's page for it."""
    for thing, (page, left, top) in zip(things, sheet.places(start), strict=False):
        while paper.pages <= page:
            paper.page()
        yield thing, (left, top, *sheet.label)


@cache
def label_sheets() -> Mapping[str, LabelSheet]:
    """Every sheet by its key, in the order of the file."""
    return {key: _sheet(key, row) for key, row in data_of(__package__, "label_sheets.yaml").items()}


def _sheet(key: str, row: Mapping[str, Any]) -> LabelSheet:
    pairs: dict[str, Any] = {name: tuple(row[name]) for name in ("page", "grid", "label", "first", "step")}
    return LabelSheet(key=key, about=str(row["about"]), **pairs)
