"""A document of pages in millimetres: embedded fonts, text that stays in its room, PDF/A-2u.

PDF/A-2u (ISO 19005-2, level U) is the archive profile in which all text can be searched and copied; the
library fpdf2 refuses what it forbids. The fonts are DejaVu Sans, which come with matplotlib; matplotlib
itself is not imported. The same content on the same day gives the same bytes.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from functools import cache
from pathlib import Path
from typing import Final, Literal
from xml.sax.saxutils import escape

from fpdf import FPDF, XPos, YPos
from fpdf.enums import DocumentCompliance
from fpdf.fonts import TTFFont

from bot.pictures.glyphs import shown
from bot.terms.language import spoken

_FAMILY: Final = "dejavu"
_FACES: Final = {
    "": "DejaVuSans.ttf",
    "B": "DejaVuSans-Bold.ttf",
    "I": "DejaVuSans-Oblique.ttf",
    "BI": "DejaVuSans-BoldOblique.ttf",
}
_CREATOR: Final = "Burrowbell"
_ELLIPSIS: Final = "…"
MM_PER_POINT: Final = 25.4 / 72
LINE: Final = 1.25
"""Height of a line as a multiple of the type's size."""

A4: Final = (210.0, 297.0)
LETTER: Final = (215.9, 279.4)
BLACK: Final = 0
GREY: Final = 90
PALE: Final = 225

Side = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class Fitted:
    """Words in a size and in lines that fit a room; ``height`` in mm."""

    size: float
    lines: tuple[str, ...]
    bold: bool
    italic: bool

    @property
    def height(self) -> float:
        """Millimetres from the top of the first line to the bottom of the last."""
        return len(self.lines) * self.size * MM_PER_POINT * LINE


class Paper:
    """A document under way. All lengths are mm from the page's top left corner, sizes of type points."""

    def __init__(self, title: str, on: date, size: tuple[float, float] = A4) -> None:
        self.width, self.height = size
        self._pdf = FPDF(unit="mm", format=size, enforce_compliance=DocumentCompliance.PDFA_2U)
        self._pdf.set_auto_page_break(False)
        self._pdf.set_margin(0)
        self._pdf.c_margin = 0
        self._pdf.set_lang(spoken())
        self._title = title
        self._day = datetime.combine(on, time(), UTC)
        self._use("", 10)

    def page(self) -> None:
        """Begin a page."""
        self._pdf.add_page()

    @property
    def pages(self) -> int:
        """Pages so far."""
        return self._pdf.pages_count

    def finish(self) -> bytes:
        """The PDF."""
        title = self.shown(self._title)
        self._pdf.set_title(title)
        self._pdf.set_creator(_CREATOR)
        self._pdf.set_producer(_CREATOR)
        self._pdf.set_creation_date(self._day)
        self._pdf.set_xmp_metadata(_xmp(title, self._day))
        return bytes(self._pdf.output())

    # --- type -------------------------------------------------------------------------------

    def write(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float = 10,
        bold: bool = False,
        italic: bool = False,
        side: Side = "left",
        grey: int = BLACK,
        room: float | None = None,
    ) -> float:
        """One line on a baseline; wider than ``room`` it shrinks to no less than 6 points, then is cut.

        Gives where the text ends: its right edge.
        """
        if room is not None:
            fitted = self.fit(words, room, size=size, bold=bold, italic=italic, most=1)
            words, size = "".join(fitted.lines), fitted.size
        style = _style(bold, italic)
        words = self.shown(words, style)
        self._use(style, size)
        width = self._pdf.get_string_width(words)
        left = x - {"left": 0.0, "center": width / 2, "right": width}[side]
        height = size * MM_PER_POINT
        self._pdf.set_text_color(grey)
        # the library sets the baseline of a cell at 0.5 of its height and 0.3 of the type's size
        self._pdf.set_xy(left, y - 0.8 * height)
        self._pdf.cell(width + 0.01, height, words, new_x=XPos.RIGHT, new_y=YPos.TOP)
        return left + width

    def fit(
        self,
        words: str,
        room: float,
        *,
        size: float,
        least: float = 6.0,
        most: int = 2,
        bold: bool = False,
        italic: bool = False,
    ) -> Fitted:
        """The largest size, from ``size`` down to ``least``, at which the words take ``most`` lines.

        At the least size a word too wide is broken, and what has no room is cut with an ellipsis.
        """
        style = _style(bold, italic)
        words = self.shown(words, style)
        at = size
        while at > least:
            lines = self._wrap(words, room, at, style, split=False)
            if lines is not None and len(lines) <= most:
                return Fitted(at, tuple(lines), bold, italic)
            at = max(least, at - 0.5)
        lines = self._wrap(words, room, at, style, split=True) or [""]
        if len(lines) > most:
            lines = [*lines[: most - 1], self._cut(" ".join(lines[most - 1 :]), room, at, style)]
        return Fitted(at, tuple(lines), bold, italic)

    def put(self, x: float, top: float, text: Fitted, *, side: Side = "left", grey: int = BLACK) -> float:
        """Fitted lines, from ``top`` on. Gives the y below them."""
        step = text.size * MM_PER_POINT * LINE
        for line in text.lines:
            self.write(
                x,
                top + step * 0.8,
                line,
                size=text.size,
                bold=text.bold,
                italic=text.italic,
                side=side,
                grey=grey,
            )
            top += step
        return top

    def paragraph(
        self,
        x: float,
        top: float,
        words: str,
        room: float,
        *,
        size: float = 10,
        bold: bool = False,
        italic: bool = False,
        grey: int = BLACK,
    ) -> float:
        """Words in as many lines as they take. Gives the y below them."""
        text = self.fit(words, room, size=size, least=size, most=10_000, bold=bold, italic=italic)
        return self.put(x, top, text, grey=grey)

    def height_of(self, words: str, room: float, *, size: float = 10, bold: bool = False) -> float:
        """How high a paragraph would be."""
        return self.fit(words, room, size=size, least=size, most=10_000, bold=bold).height

    def width_of(self, words: str, *, size: float, bold: bool = False, italic: bool = False) -> float:
        """How wide a line would be."""
        style = _style(bold, italic)
        words = self.shown(words, style)
        self._use(style, size)
        return self._pdf.get_string_width(words)

    def shown(self, words: str, style: str = "") -> str:
        """The words with a box for what the font has no shape for: PDF/A forbids a missing one."""
        return shown(words, self._face(style).cmap.__contains__)

    # --- shapes -----------------------------------------------------------------------------

    def box(
        self,
        left: float,
        top: float,
        width: float,
        height: float,
        *,
        fill: int | None = None,
        line: float = 0.0,
        grey: int = BLACK,
        radius: float = 0.0,
    ) -> None:
        """A rectangle, filled or with an edge or both; greys from 0 (black) to 255 (white)."""
        if fill is not None:
            self._pdf.set_fill_color(fill)
        self._pdf.set_draw_color(grey)
        self._pdf.set_line_width(line or 0.1)
        style = ("D" if line else "") + ("F" if fill is not None else "")
        corners = bool(radius)
        self._pdf.rect(left, top, width, height, style, round_corners=corners, corner_radius=radius)

    def rule(
        self, x1: float, y1: float, x2: float, y2: float, *, line: float = 0.2, grey: int = GREY
    ) -> None:
        """A straight line."""
        self._pdf.set_draw_color(grey)
        self._pdf.set_line_width(line)
        self._pdf.line(x1, y1, x2, y2)

    def shape(self, points: list[tuple[float, float]], *, fill: int = BLACK) -> None:
        """A filled polygon."""
        self._pdf.set_fill_color(fill)
        self._pdf.set_draw_color(fill)
        self._pdf.set_line_width(0.1)
        self._pdf.polygon(points, style="F")

    def image(self, png: bytes, left: float, top: float, width: float) -> None:
        """A picture."""
        self._pdf.image(png, x=left, y=top, w=width)

    # --- inside -----------------------------------------------------------------------------

    def _use(self, style: str, size: float) -> None:
        self._face(style)
        self._pdf.set_font(_FAMILY, style, size)

    def _face(self, style: str) -> TTFFont:
        """The font of a style; it is read and embedded only once something is written in it."""
        if _FAMILY + style not in self._pdf.fonts:
            self._pdf.add_font(_FAMILY, style, _fonts() / _FACES[style])
        font = self._pdf.fonts[_FAMILY + style]
        assert isinstance(font, TTFFont)
        return font

    def _wrap(self, words: str, room: float, size: float, style: str, *, split: bool) -> list[str] | None:
        """Lines no wider than the room; ``None`` where a word alone is, unless words may be split."""
        self._use(style, size)
        lines: list[str] = []
        for word in words.split(" "):
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self._pdf.get_string_width(longer) <= room:
                lines[-1] = longer
            elif self._pdf.get_string_width(word) <= room:
                lines.append(word)
            elif split:
                lines += self._pieces(word, room)
            else:
                return None
        return lines

    def _pieces(self, word: str, room: float) -> Iterator[str]:
        piece = ""
        for sign in word:
            if piece and self._pdf.get_string_width(piece + sign) > room:
                yield piece
                piece = ""
            piece += sign
        yield piece

    def _cut(self, words: str, room: float, size: float, style: str) -> str:
        self._use(style, size)
        while words and self._pdf.get_string_width(words + _ELLIPSIS) > room:
            words = words[:-1].rstrip()
        return words + _ELLIPSIS


def _style(bold: bool, italic: bool) -> str:
    return ("B" if bold else "") + ("I" if italic else "")


@cache
def _fonts() -> Path:
    """The folder of matplotlib's fonts. Raises ``FileNotFoundError`` where matplotlib is not installed."""
    spec = importlib.util.find_spec("matplotlib")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("the fonts for paper come with matplotlib, which is not installed")
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf"


def _xmp(title: str, at: datetime) -> str:
    """The metadata that PDF/A wants, without the moment of writing, which the library would add."""
    day = at.isoformat(timespec="seconds")
    return f"""<x:xmpmeta xmlns:x="adobe:ns:meta/">
  <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"
      xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
      xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
    <rdf:Description rdf:about="" xmp:CreatorTool="{_CREATOR}" xmp:CreateDate="{day}"
        xmp:ModifyDate="{day}" xmp:MetadataDate="{day}" pdf:Producer="{_CREATOR}">
      <pdfaid:part>2</pdfaid:part>
      <pdfaid:conformance>U</pdfaid:conformance>
      <dc:title><rdf:Alt><rdf:li xml:lang="x-default">{escape(title)}</rdf:li></rdf:Alt></dc:title>
    </rdf:Description>
  </rdf:RDF>
</x:xmpmeta>"""
