"""Molt intervals of a species: a row for each animal, a mark for each stretch between two molts."""

from __future__ import annotations

from statistics import median
from typing import Final

from bot.pictures.data import MoltIntervals
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import days, say, some
from bot.terms import Specimen

ROWS: Final = 24
"""Animals on one picture: those with most intervals come first."""

_ROW: Final = 66.0
_TOP: Final = 270.0
_LEFT: Final = 330.0


def intervals_chart(intervals: MoltIntervals, look: Look) -> Picture:
    """The days between molts, numbered in their order. Raises ``ValueError`` where there are none."""
    if not intervals.animals:
        raise ValueError(say("nothing.no_intervals", species=intervals.species))
    rows = sorted(intervals.animals, key=lambda row: -len(row[1]))[:ROWS]
    height = round(_TOP + max(2, len(rows)) * _ROW + 190)
    return picture(look, height, lambda board: _draw(board, intervals, rows))


def _draw(board: Board, intervals: MoltIntervals, rows: list[tuple[Specimen, tuple[int, ...]]]) -> str:
    theme = board.theme
    every = sorted(gap for _, gaps in intervals.animals for gap in gaps)
    middle = median(every)
    told = say(
        "molts.told",
        median=days(round(middle)),
        low=every[0],
        high=every[-1],
        intervals=some(len(every), "interval"),
        animals=some(len(intervals.animals), "animal"),
    )
    board.head(say("molts.title"), italic=intervals.species)
    board.lines(172, [told], size=SMALL + 2)
    bottom = _TOP + max(2, len(rows)) * _ROW
    panel = board.panel((_LEFT, _TOP, WIDTH - MARGIN, bottom), (0, every[-1] * 1.12), (max(2, len(rows)), 0))
    panel.days_axis(say("molts.axis"))
    panel.upright(middle, theme.molt, dashes=True)
    for place, (specimen, gaps) in enumerate(rows):
        panel.row_label(place + 0.5, specimen.called, room=_LEFT - MARGIN - 20, bold=True)
        panel.line([min(gaps), max(gaps)], [place + 0.5] * 2, theme.grid, width=6)
        panel.marks(list(gaps), [place + 0.5] * len(gaps), "D", theme.molt, filled=False, size=18)
        panel.marks([gaps[-1]], [place + 0.5], "D", theme.molt, size=22)
    board.legend(
        bottom + 92,
        [
            Key(say("molts.latest"), theme.molt, marker="D"),
            Key(say("molts.earlier"), theme.molt, marker="D", filled=False),
            Key(say("molts.middle"), theme.molt, marker="|"),
        ],
    )
    return say("molts.caption", species=intervals.species, told=told)
