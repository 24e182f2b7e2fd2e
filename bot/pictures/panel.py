"""One plot of a picture: marks, steps, bands, and axes with few large labels."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

from matplotlib.collections import LineCollection
from matplotlib.lines import Line2D
from matplotlib.ticker import MaxNLocator
from matplotlib.transforms import Affine2D, Bbox, TransformedBbox

from bot.pictures.calendar_ticks import Tick, calendar_ticks
from bot.pictures.measures import plain
from bot.pictures.theme import SMALL

if TYPE_CHECKING:
    from bot.pictures.frame import Board, TextBox

Span = tuple[float, float]
"""First and last value of an axis."""
Box = tuple[float, float, float, float]
"""Left, top, right and bottom in pixels."""

_STROKES: Final = "x+|_"
"""Marks that are strokes and have no inside to fill."""
_FREE_AT_TOP: Final = 0.06
"""Part of the height at the top where no value is named: what stands above the plot needs the room."""
_LABEL_WIDTH: Final = 150.0
"""Pixels that a date label wants for itself."""


class Panel:
    """A plot in a box of the board. Days are ordinals (``date.toordinal``) on the x axis."""

    def __init__(self, board: Board, box: Box, x: Span, y: Span) -> None:
        self.board, self.box, self.x, self.y = board, box, x, y
        self.theme = board.theme
        left, top, right, bottom = box
        across, down = (right - left) / (x[1] - x[0]), (top - bottom) / (y[1] - y[0])
        self._data = (
            Affine2D().translate(-x[0], -y[0]).scale(across, down).translate(left, bottom) + board.pixels
        )
        self._edges = TransformedBbox(Bbox.from_extents(left, top, right, bottom), board.pixels)

    def px(self, value: float) -> float:
        """The pixel, from the board's left, of a value on the x axis."""
        left, _, right, _ = self.box
        return left + (value - self.x[0]) / (self.x[1] - self.x[0]) * (right - left)

    def py(self, value: float) -> float:
        """The pixel, from the board's top, of a value on the y axis."""
        _, top, _, bottom = self.box
        return bottom - (value - self.y[0]) / (self.y[1] - self.y[0]) * (bottom - top)

    # --- axes -------------------------------------------------------------------------------

    def calendar(self, *, labels: bool = True) -> list[Tick]:
        """Lines at the starts of months or weeks, and below them their names, the year where it begins."""
        left, _, right, _ = self.box
        room = int((right - left) / _LABEL_WIDTH)
        ticks = calendar_ticks(
            date.fromordinal(int(self.x[0])),
            date.fromordinal(int(self.x[1])),
            room,
            self.board.look.settings.date_order,
        )
        self.rules(vertical=[tick.on.toordinal() for tick in ticks])
        for tick in ticks if labels else ():
            self._name_below(self.px(tick.on.toordinal()), tick.name, tick.year)
        return ticks

    def _name_below(self, x: float, *lines: str) -> None:
        """Lines under the plot, in the middle of ``x`` but never beyond its sides."""
        left, _, right, bottom = self.box
        for number, words in enumerate(lines):
            half = self.board.width_of(words, SMALL) / 2
            middle = max(left + half, min(right - half, x))
            y = bottom + 34 * (number + 1)
            if words:
                self.board.write(
                    middle, y, words, size=SMALL, color=self.theme.muted, side="center", room=2 * half + 1
                )

    def values(self, *, most: int = 5, whole: bool = False) -> None:
        """Lines at round values, named at the left."""
        places = MaxNLocator(nbins=most, steps=[1, 2, 2.5, 5, 10], integer=whole)
        low, high = self.y
        top = high - (high - low) * _FREE_AT_TOP
        inside = [value for value in places.tick_values(low, high) if low <= value <= top]
        self.rules(horizontal=inside)
        for value in inside:
            self.row_label(value, plain(value, 2))

    def days_axis(self, name: str) -> None:
        """Upright lines at round numbers of days, told below, and the axis's name after the last."""
        places = MaxNLocator(nbins=5, steps=[1, 2, 2.5, 5, 10], integer=True)
        inside = [value for value in places.tick_values(*self.x) if self.x[0] <= value <= self.x[1]]
        self.rules(vertical=inside)
        for value in inside:
            words = f"{plain(value)} {name}" if value == inside[-1] else plain(value)
            self._name_below(self.px(value), words)

    def row_label(
        self, value: float, words: str, *, room: float | None = None, bold: bool = False
    ) -> TextBox:
        """A name at the left of the plot, level with a value."""
        return self.board.write(
            self.box[0] - 14,
            self.py(value),
            words,
            size=SMALL,
            color=self.theme.ink if bold else self.theme.muted,
            side="right",
            level="center",
            bold=bold,
            room=room,
        )

    def rules(self, *, vertical: Sequence[float] = (), horizontal: Sequence[float] = ()) -> None:
        """Thin lines across the plot."""
        lines = [[(x, self.y[0]), (x, self.y[1])] for x in vertical]
        lines += [[(self.x[0], y), (self.x[1], y)] for y in horizontal]
        self.board.add(
            LineCollection(lines, colors=self.theme.grid, linewidths=2, zorder=1.5, transform=self._data)
        )

    def upright(self, x: float, color: str, *, width: float = 3, dashes: bool = False) -> None:
        """One line from top to bottom, such as today's."""
        self.line([x, x], list(self.y), color, width=width, dashes=dashes, z=2.5)

    # --- data -------------------------------------------------------------------------------

    def line(
        self,
        xs: Sequence[float],
        ys: Sequence[float],
        color: str,
        *,
        width: float = 5,
        steps: bool = False,
        dashes: bool = False,
        z: float = 3,
    ) -> None:
        """A line through points; with ``steps`` a value holds until the next one."""
        self.board.add(
            Line2D(
                xs,
                ys,
                color=color,
                linewidth=width,
                drawstyle="steps-post" if steps else "default",
                linestyle=(0, (2.5, 2)) if dashes else "solid",
                solid_capstyle="round",
                zorder=z,
                transform=self._data,
                clip_box=self._edges,
            )
        )

    def marks(
        self,
        xs: Sequence[float],
        ys: Sequence[float],
        marker: str,
        color: str,
        *,
        filled: bool = True,
        size: float = 20,
        edge: float = 4,
    ) -> None:
        """The same mark at each point, cut off nowhere."""
        self.board.add(
            Line2D(
                xs,
                ys,
                marker=marker,
                markersize=size,
                color=color,
                markerfacecolor=color if filled else self.theme.panel,
                markeredgecolor=color if not filled or marker in _STROKES else self.theme.panel,
                markeredgewidth=edge if not filled or marker in _STROKES else 1.5,
                linestyle="none",
                zorder=4,
                transform=self._data,
            )
        )

    def area(
        self,
        x: Span,
        y: Span | None = None,
        *,
        fill: str,
        edge: str | None = None,
        hatch: str | None = None,
        line: float = 0.0,
        z: float = 1,
    ) -> None:
        """A filled box from x to x, over the whole height unless ``y`` says otherwise; cut at the edges."""
        low, high = y or self.y
        left, top, right, bottom = self.box
        box = (
            max(left, min(right, self.px(x[0]))),
            max(top, min(bottom, self.py(high))),
            max(left, min(right, self.px(x[1]))),
            max(top, min(bottom, self.py(low))),
        )
        self.board.block(box, fill, edge=edge, hatch=hatch, line=line, z=z)
