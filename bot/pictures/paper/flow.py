"""Text that flows down pages: headings, paragraphs, tables, blanks to fill in, a foot on every page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bot.pictures.paper.page import BLACK, GREY, LINE, MM_PER_POINT, PALE, Paper

MARGIN: Final = 16.0
FOOT: Final = 16.0
"""Millimetres kept for the foot of a page."""
TEXT: Final = 9.5
_SMALL: Final = 8.0
_CAPTION: Final = 8.5
_CELL: Final = 1.2
_BULLET: Final = "•"
_LEAST_PART, _MOST_PART = 0.55, 0.82
"""Parts of the width that a picture takes."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and its share of the width."""

    name: str
    share: float


class Flow:
    """A place on a page that moves down, and to the next page where there is no room left."""

    def __init__(self, paper: Paper, foot: str) -> None:
        self.paper, self._foot = paper, foot
        self.y = MARGIN
        self.room = paper.width - 2 * MARGIN
        self._new_page()

    @property
    def left(self) -> float:
        """Millimetres left on this page."""
        return self.paper.height - FOOT - self.y

    def need(self, height: float) -> None:
        """Go to the next page unless so much room is left; what is higher than a page begins a new one."""
        if height > self.left and self.y > MARGIN:
            self._new_page()

    def _new_page(self) -> None:
        self.paper.page()
        self.y = MARGIN
        base = self.paper.height - FOOT + 8
        number = str(self.paper.pages)
        self.paper.rule(MARGIN, base - 5, self.paper.width - MARGIN, base - 5, line=0.15, grey=PALE)
        self.paper.write(MARGIN, base, self._foot, size=7.5, grey=GREY, room=self.room - 14)
        self.paper.write(self.paper.width - MARGIN, base, number, size=7.5, grey=GREY, side="right")

    # --- words ------------------------------------------------------------------------------

    def title(self, words: str, under: str = "", *, italic: bool = False) -> None:
        """The title of the document, and a line under it."""
        fitted = self.paper.fit(words, self.room, size=22, least=12, most=2, bold=True)
        self.y = self.paper.put(MARGIN, self.y, fitted) + 0.5
        if under:
            fitted = self.paper.fit(under, self.room, size=12, least=8, most=2, italic=italic)
            self.y = self.paper.put(MARGIN, self.y, fitted, grey=GREY)
        self.y += 3

    def heading(self, words: str, *, keep: float = 18.0) -> None:
        """A heading that does not stand alone at the foot of a page."""
        self.need(keep)
        self.y += 2.5
        fitted = self.paper.fit(words, self.room, size=12.5, least=9, most=2, bold=True)
        self.y = self.paper.put(MARGIN, self.y, fitted) + 0.8

    def text(self, words: str, *, bold: bool = False, grey: int = BLACK, size: float = TEXT) -> None:
        """A paragraph."""
        self.need(self.paper.height_of(words, self.room, size=size, bold=bold))
        self.y = self.paper.paragraph(MARGIN, self.y, words, self.room, size=size, bold=bold, grey=grey) + 0.8

    def points(self, lines: Sequence[str]) -> None:
        """A list with bullets."""
        for line in lines:
            self.need(self.paper.height_of(line, self.room - 5, size=TEXT))
            self.paper.write(MARGIN + 0.5, self.y + TEXT * MM_PER_POINT, _BULLET, size=TEXT)
            self.y = self.paper.paragraph(MARGIN + 5, self.y, line, self.room - 5, size=TEXT) + 0.6

    def blanks(self, names: Sequence[str], *, columns: int = 1) -> None:
        """Lines to write on by hand, each with its name."""
        width = self.room / columns
        for number, name in enumerate(names):
            column = number % columns
            if column == 0:
                self.need(8.5)
                self.y += 8.5
            x = MARGIN + column * width
            end = self.paper.write(x, self.y, name, size=_SMALL + 0.5, grey=GREY, room=width * 0.6)
            self.paper.rule(end + 2, self.y + 0.6, x + width - 3, self.y + 0.6)
        self.y += 3

    def facts(self, pairs: Sequence[tuple[str, str]], *, columns: int = 2) -> None:
        """Names and what is known; a blank line stands for what is not."""
        width = self.room / columns
        name_room = min(38.0, width * 0.45)
        value_room = width - name_room - 5
        for start in range(0, len(pairs), columns):
            row = pairs[start : start + columns]
            heights = [self.paper.height_of(value, value_room, size=TEXT) for _, value in row]
            step = max([6.0, *(height + 1.6 for height in heights)])
            self.need(step)
            for number, (name, value) in enumerate(row):
                x = MARGIN + number * width
                self.paper.write(
                    x, self.y + TEXT * MM_PER_POINT, name, size=_SMALL, grey=GREY, room=name_room - 2
                )
                if value:
                    self.paper.paragraph(x + name_room, self.y, value, value_room, size=TEXT)
                else:
                    base = self.y + TEXT * MM_PER_POINT + 0.8
                    self.paper.rule(x + name_room, base, x + width - 5, base, grey=GREY)
            self.y += step
        self.y += 1

    def picture(self, png: bytes, size: tuple[int, int], caption: str = "") -> None:
        """A picture of that size in pixels in the middle of the page, as large as what is left allows.

        Its caption stands below it, on the same page.
        """
        ratio = size[1] / size[0]
        beneath = self.paper.height_of(caption, self.room, size=_CAPTION) + 1 if caption else 0.0
        if min(self.room, (self.left - beneath) / ratio) < self.room * _LEAST_PART:
            self._new_page()
        width = min(self.room * _MOST_PART, (self.left - beneath) / ratio)
        self.paper.image(png, MARGIN + (self.room - width) / 2, self.y, width)
        self.y += width * ratio
        if caption:
            self.text(caption, grey=GREY, size=_CAPTION)

    # --- tables -----------------------------------------------------------------------------

    def table(self, columns: Sequence[Column], rows: Sequence[Sequence[str]], *, boxes: bool = False) -> None:
        """Rows under their headings, which are told again on every page.

        With ``boxes`` each row begins with a small square to tick.
        """
        lead = 5.5 if boxes else 0.0
        whole = sum(column.share for column in columns)
        widths = [(self.room - lead) * column.share / whole for column in columns]
        self._table_head(columns, widths, lead)
        for row in rows:
            cells = [
                self.paper.fit(words, width - _CELL, size=TEXT, least=6.5, most=3)
                for words, width in zip(row, widths, strict=True)
            ]
            height = max(cell.height for cell in cells) + 2 * _CELL * 0.6
            if height > self.left:
                self._new_page()
                self._table_head(columns, widths, lead)
            if boxes:
                self.paper.box(MARGIN + 0.4, self.y + 1.1, 3.2, 3.2, line=0.25)
            x = MARGIN + lead
            for cell, width in zip(cells, widths, strict=True):
                self.paper.put(x, self.y + _CELL * 0.6, cell)
                x += width
            self.y += height
            self.paper.rule(MARGIN, self.y, MARGIN + self.room, self.y, line=0.1, grey=PALE)
        self.y += 1.5

    def _table_head(self, columns: Sequence[Column], widths: Sequence[float], lead: float) -> None:
        height = _SMALL * MM_PER_POINT * LINE + 1.5
        self.need(height + 8)
        x = MARGIN + lead
        for column, width in zip(columns, widths, strict=True):
            self.paper.write(
                x, self.y + _SMALL * MM_PER_POINT, column.name, size=_SMALL, grey=GREY, room=width - _CELL
            )
            x += width
        self.y += height
        self.paper.rule(MARGIN, self.y, MARGIN + self.room, self.y, line=0.25)
