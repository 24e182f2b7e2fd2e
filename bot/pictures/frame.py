"""The frame of every chart: one figure in pixels, type that fits its room, panels with plain axes.

All places are pixels from the top left corner. matplotlib draws lines, marks and fills through its Agg
canvas alone (no pyplot, no window system); Pillow writes the text over them, which takes a tenth of the
time and never reads a text as a formula. Import this module late: it takes half a second. One picture is
drawn at a time, whatever thread asks.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from math import ceil
from pathlib import Path
from threading import Lock
from typing import Any, Final, Literal

import matplotlib as mpl
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.font_manager import get_font
from matplotlib.lines import Line2D
from matplotlib.transforms import Affine2D
from PIL import Image, ImageDraw, ImageFont

from bot.pictures.glyphs import shown
from bot.pictures.panel import Box, Panel, Span
from bot.pictures.theme import BODY, HEADING, MARGIN, SMALL, TITLE, WIDTH, Look
from bot.terms.language import speaking

#: At this resolution a point is a pixel, so that lines and marks are given in pixels throughout.
_DPI: Final = 72
_FONTS: Final = Path(mpl.get_data_path()) / "fonts" / "ttf"
_FACES: Final = {
    (False, False): "DejaVuSans.ttf",
    (True, False): "DejaVuSans-Bold.ttf",
    (False, True): "DejaVuSans-Oblique.ttf",
    (True, True): "DejaVuSans-BoldOblique.ttf",
}
_DRAWING: Final = Lock()
_ELLIPSIS: Final = "…"
_FOOT: Final = 40
"""Pixels left free under the last line."""

Side = Literal["left", "center", "right"]
Level = Literal["top", "center", "bottom", "baseline"]


@dataclass(frozen=True, slots=True)
class TextBox:
    """A text as it is drawn, with its box in pixels from the top left: from the ascent to the descent."""

    words: str
    left: float
    top: float
    right: float
    bottom: float
    size: int
    color: str
    face: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawn picture: the PNG's bytes, its size in pixels, and what it shows, in a sentence.

    ``caption`` serves as the text beside the picture and for those who cannot see it.
    """

    png: bytes
    width: int
    height: int
    caption: str
    texts: tuple[TextBox, ...]


def picture(look: Look, height: int, draw: Callable[[Board], str]) -> Picture:
    """Draw on a fresh board of that height; ``draw`` gives the caption back.

    All is of the language of the look's settings. Safe from any thread.
    """
    with _DRAWING, speaking(look.settings.language):
        board = Board(look, height)
        caption = draw(board)
        return board.picture(caption)


@dataclass(frozen=True, slots=True)
class _Style:
    """How a filled box is drawn."""

    z: float
    fill: str
    edge: str
    hatch: str | None
    line: float


class Board:
    """The whole area of one picture."""

    def __init__(self, look: Look, height: int) -> None:
        self.look, self.theme, self.height = look, look.theme, height
        self.texts: list[TextBox] = []
        self._blocks: defaultdict[_Style, list[list[tuple[float, float]]]] = defaultdict(list)
        self._figure = Figure(figsize=(WIDTH / _DPI, height / _DPI), dpi=_DPI, facecolor=look.theme.paper)
        self._canvas: Any = FigureCanvasAgg(self._figure)  # its methods have no types
        #: From pixels counted from the top left to the canvas, which counts from the bottom left.
        self.pixels = Affine2D().scale(1, -1).translate(0, height)

    # --- type -------------------------------------------------------------------------------

    def write(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: int = BODY,
        color: str | None = None,
        bold: bool = False,
        italic: bool = False,
        side: Side = "left",
        level: Level = "baseline",
        room: float | None = None,
    ) -> TextBox:
        """Write one line. Wider than ``room`` it shrinks, not below the smallest type, then it is cut."""
        face = _FACES[bold, italic]
        words = shown(words, get_font(str(_FONTS / face)).get_char_index)
        room = (WIDTH - MARGIN / 2 - x if side == "left" else WIDTH) if room is None else room
        words, size = _fitted(words, size, face, room)
        width = _width(words, size, face)
        ascent, descent = _font(face, size).getmetrics()
        left = x - {"left": 0.0, "center": width / 2, "right": width}[side]
        height = ascent + descent
        top = y - {"top": 0.0, "center": height / 2, "bottom": height, "baseline": ascent}[level]
        box = TextBox(words, left, top, left + width, top + height, size, color or self.theme.ink, face)
        self.texts.append(box)
        return box

    def width_of(self, words: str, size: int = BODY, *, bold: bool = False, italic: bool = False) -> float:
        """How wide a line would be, in pixels."""
        return _width(words, size, _FACES[bold, italic])

    # --- parts ------------------------------------------------------------------------------

    def head(self, title: str, kind: str = "", *, tail: str = "", italic: str = "") -> float:
        """The title, and under it a line: first its italic part, then the rest. Gives the next free y.

        A title too long is cut, but never the ``tail`` behind it, such as an animal's tag.
        """
        room = WIDTH - 2 * MARGIN - (self.width_of(tail, TITLE, bold=True) + 20 if tail else 0)
        end = self.write(MARGIN, 76, title, size=TITLE, bold=True, room=max(room, WIDTH / 3)).right
        if tail:
            self.write(end + 18, 76, tail, size=TITLE, bold=True)
        if not (kind or italic):
            return 110.0
        x = float(MARGIN)
        if italic:
            room = WIDTH - 2 * MARGIN - (self.width_of(kind, HEADING) + 24 if kind else 0)
            x = self.write(x, 130, italic, size=HEADING, italic=True, room=room).right + 20
        if kind:
            self.write(x, 130, kind, size=HEADING, color=self.theme.muted)
        return 164.0

    def lines(self, y: float, lines: list[str], *, size: int = BODY) -> float:
        """Lines of text, one below the other. Gives the next free y."""
        for line in lines:
            self.write(MARGIN, y + size, line, size=size, color=self.theme.ink, room=WIDTH - 2 * MARGIN)
            y += size * 1.42
        return y + 8

    def panel(self, box: Box, x: Span, y: Span, *, fill: bool = True) -> Panel:
        """A plot in a box whose data run over ``x`` and ``y``."""
        if fill:
            self.block(box, self.theme.panel)
        return Panel(self, box, x, y)

    def add(self, artist: Artist) -> None:
        """One more thing for matplotlib to draw, in the order of its ``zorder``."""
        self._figure.add_artist(artist)

    def block(
        self,
        box: Box,
        fill: str,
        *,
        edge: str | None = None,
        hatch: str | None = None,
        line: float = 0.0,
        z: float = 0.0,
    ) -> None:
        """A filled box; those of one style are drawn in one go, in the order of ``z``."""
        left, top, right, bottom = box
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        self._blocks[_Style(z, fill, edge or fill, hatch, line)].append(corners)

    def _add_blocks(self) -> None:
        for style, boxes in self._blocks.items():
            self.add(
                PolyCollection(
                    boxes,
                    transform=self.pixels,
                    facecolors=style.fill,
                    edgecolors=style.edge,
                    hatch=style.hatch,
                    linewidths=style.line,
                    antialiaseds=style.line > 0 or style.hatch is not None,
                    zorder=style.z,
                )
            )

    def mark(
        self, x: float, y: float, marker: str, color: str, *, filled: bool = True, size: float = 22
    ) -> None:
        """One mark on the board, as the legend shows it."""
        self.add(
            Line2D(
                [x],
                [y],
                transform=self.pixels,
                marker=marker,
                markersize=size,
                markerfacecolor=color if filled else self.theme.paper,
                markeredgecolor=color,
                markeredgewidth=4,
                linestyle="none",
                zorder=4,
            )
        )

    def legend(self, y: float, keys: list[Key]) -> float:
        """The keys in rows from left to right. Gives the next free y."""
        x = float(MARGIN)
        for key in keys:
            width = 52 + self.width_of(key.words, SMALL) + 34
            if x > MARGIN and x + width - 34 > WIDTH - MARGIN:
                x, y = float(MARGIN), y + 46
            key.draw(self, x + 18, y + 20)
            self.write(x + 52, y + 20, key.words, size=SMALL, level="center", color=self.theme.ink)
            x += width
        return y + 54

    def picture(self, caption: str) -> Picture:
        """The finished picture, cut off below the last line of text."""
        self._add_blocks()
        self._canvas.draw()
        size = (WIDTH, self.height)
        image = Image.frombuffer("RGBA", size, self._canvas.buffer_rgba()).convert("RGB")
        used = ceil(max((text.bottom for text in self.texts), default=self.height)) + _FOOT
        image = image.crop((0, 0, WIDTH, min(used, self.height)))
        pen = ImageDraw.Draw(image)
        for text in self.texts:
            pen.text((text.left, text.top), text.words, text.color, font=_font(text.face, text.size))
        out = BytesIO()
        image.save(out, "PNG", compress_level=2)
        return Picture(out.getvalue(), image.width, image.height, caption, tuple(self.texts))


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a legend: its words, and a mark, or a fill with a hatch, as in the plot."""

    words: str
    color: str
    marker: str | None = None
    filled: bool = True
    fill: str | None = None
    hatch: str | None = None

    def draw(self, board: Board, x: float, y: float) -> None:
        """The sign around a point."""
        if self.fill is not None:
            board.block(
                (x - 18, y - 17, x + 18, y + 17), self.fill, edge=self.color, hatch=self.hatch, line=2
            )
        if self.marker is not None:
            board.mark(x, y, self.marker, self.color, filled=self.filled)


@lru_cache(maxsize=64)
def _font(face: str, size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(_FONTS / face), size)


@lru_cache(maxsize=4096)
def _width(words: str, size: int, face: str) -> float:
    return _font(face, size).getlength(words)


def _fitted(words: str, size: int, face: str, room: float) -> tuple[str, int]:
    """The words and size that fit into the room: smaller first, then cut."""
    width = _width(words, size, face)
    if width > room:
        size = max(min(size, SMALL), int(size * room / width))
    while _width(words, size, face) > room and words != _ELLIPSIS:
        words = words.removesuffix(_ELLIPSIS)[:-1].rstrip() + _ELLIPSIS
    return words, size
