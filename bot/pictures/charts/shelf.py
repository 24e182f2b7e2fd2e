"""The shelf at a glance: for each animal the days since food, its rest, where it stands in its molt cycle."""

from __future__ import annotations

from datetime import date
from typing import Final

from bot.pictures import measures
from bot.pictures.data import ShelfGlance, ShelfRow
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.theme import BODY, MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import say, some
from bot.round.model import RestReason

ROWS: Final = 24
"""Animals on one picture; a longer shelf takes several."""

_ROW: Final = 60.0
_TOP: Final = 236.0
_NAME: Final = (float(MARGIN), 330.0)
_FED: Final = (350.0, 530.0)
_REST_LEFT: Final = 604.0
_CYCLE: Final = (806.0, float(WIDTH - MARGIN))
"""The molt cycle begins there, or further right where a language has longer words for a rest."""
_GAP: Final = 16.0
_LONGEST_WAIT: Final = 42
"""Days since food at which the bar is full; the figure beside it goes on."""


def shelf_charts(glance: ShelfGlance, look: Look) -> list[Picture]:
    """The shelf in its order, on as many pictures as it takes; for an empty shelf none."""
    parts = [glance.rows[start : start + ROWS] for start in range(0, len(glance.rows), ROWS)]
    return [_chart(glance, part, (page, len(parts)), look) for page, part in enumerate(parts, 1)]


def _chart(glance: ShelfGlance, rows: tuple[ShelfRow, ...], page: tuple[int, int], look: Look) -> Picture:
    def draw(board: Board) -> str:
        title = say("shelf.title") if page[1] == 1 else say("shelf.pages", page=page[0], pages=page[1])
        on = measures.day(glance.on, look.settings.date_order)
        board.head(
            title, say("shelf.today", weekday=measures.weekday(glance.on), day=on, animals=_heads(glance))
        )
        cycle = _cycle_left(board)
        for x, key in ((_FED[0], "shelf.fed"), (_REST_LEFT, "shelf.rest"), (cycle, "shelf.cycle")):
            board.write(x, _TOP - 20, say(key), size=SMALL, color=board.theme.muted)
        for number, row in enumerate(rows):
            _row(board, row, _TOP + number * _ROW, cycle, glance.on)
        board.legend(_TOP + len(rows) * _ROW + 20, _keys(board))
        return _caption(glance, look)

    return picture(look, round(_TOP + len(rows) * _ROW + 200), draw)


def _cycle_left(board: Board) -> float:
    """Where the molt cycle begins: right of the longest word for a rest."""
    words = [say(f"shelf.at_rest.{reason.value}") for reason in RestReason]
    widest = max(board.width_of(word, SMALL, bold=True) for word in words)
    return max(_CYCLE[0], _REST_LEFT + widest + _GAP)


def _row(board: Board, row: ShelfRow, top: float, cycle: float, on: date) -> None:
    theme, middle = board.theme, top + _ROW / 2
    resting = row.rest is not None
    board.block((MARGIN - 18, top + 3, WIDTH - MARGIN + 18, top + _ROW - 3), theme.panel)
    if resting:
        board.block((MARGIN - 18, top + 3, MARGIN - 8, top + _ROW - 3), theme.sealed)
    _name(board, row, middle)
    _fed(board, row, top)
    if row.rest is not None:
        words = say(f"shelf.at_rest.{row.rest.value}")
        board.write(_REST_LEFT, middle, words, size=SMALL, level="center", bold=True, color=theme.sealed)
    _cycle(board, row, (cycle, top), on)


def _name(board: Board, row: ShelfRow, middle: float) -> None:
    specimen = row.specimen
    left, right = _NAME
    if specimen.name is None:
        board.write(left, middle, specimen.tag, level="center", bold=True, room=right - left)
        return
    tag = board.write(
        right,
        middle,
        specimen.tag,
        level="center",
        side="right",
        size=SMALL,
        color=board.theme.muted,
        room=(right - left) / 2,
    )
    board.write(left, middle, specimen.name, level="center", bold=True, room=tag.left - left - 14)


def _fed(board: Board, row: ShelfRow, top: float) -> None:
    """A bar of the days since food, with a stroke at the wait that is usual for the animal."""
    theme, middle = board.theme, top + _ROW / 2
    if row.fed_days is None:
        board.write(_FED[0], middle, say("shelf.never"), level="center", size=SMALL, color=theme.muted)
        return
    panel = board.panel((_FED[0], top + 15, _FED[1], top + _ROW - 15), (0, _LONGEST_WAIT), (0, 1), fill=False)
    days = min(row.fed_days, _LONGEST_WAIT)
    if row.rest is not None:
        panel.area((0, days), fill=theme.sealed_fill, edge=theme.sealed, hatch="//", z=2)
    elif _late(row):
        panel.area((0, days), fill=theme.refused, z=2)
    else:
        panel.area((0, days), fill=theme.taken, z=2)
    x = panel.px(days) + 10
    if row.rest is None:
        stroke = min(row.feed_every, _LONGEST_WAIT)
        panel.area((stroke - 0.5, stroke + 0.5), fill=theme.ink, z=3)
        x = max(x, panel.px(stroke) + 12) if stroke - days < 12 else x
    board.write(x, middle, str(row.fed_days), size=BODY, level="center", bold=_late(row), room=80)


def _late(row: ShelfRow) -> bool:
    return row.rest is None and row.fed_days is not None and row.fed_days > row.feed_every


def _cycle(board: Board, row: ShelfRow, corner: tuple[float, float], on: date) -> None:
    """From the last molt to the latest day of the next one, now marked on it."""
    left, top = corner
    theme, middle = board.theme, top + _ROW / 2
    if row.last_molt is None:
        board.write(left, middle, say("shelf.no_molt"), size=SMALL, level="center", color=theme.muted)
        return
    since = (on - row.last_molt).days
    if row.next_molt is None:
        words = say("shelf.since_molt", n=since)
        board.write(left, middle, words, size=SMALL, level="center", color=theme.muted)
        return
    early, even_from, even_to, late = (
        (day - row.last_molt).days
        for day in (
            row.next_molt.early,
            row.next_molt.even_from,
            row.next_molt.even_to,
            row.next_molt.late,
        )
    )
    whole = max(late, since, 1)
    panel = board.panel((left, top + 18, _CYCLE[1], top + _ROW - 18), (0, whole), (0, 1), fill=False)
    panel.area((0, whole), fill=theme.grid, z=1)
    panel.area((early, late), fill=theme.next_fill, z=1.1)
    panel.area((even_from, even_to), fill=theme.next_core, z=1.2)
    panel.area((0, whole), fill="none", edge=theme.next_molt, line=2, z=1.4)
    board.mark(panel.px(since), middle, "D", theme.ink, size=18)


def _keys(board: Board) -> list[Key]:
    theme = board.theme
    return [
        Key(say("shelf.legend_fed"), theme.taken, fill=theme.taken),
        Key(say("shelf.legend_late"), theme.refused, fill=theme.refused),
        Key(say("shelf.legend_rest"), theme.sealed, fill=theme.sealed_fill, hatch="//"),
        Key(say("shelf.legend_every"), theme.ink, marker="|"),
        Key(say("shelf.legend_now"), theme.ink, marker="D"),
        Key(say("life.legend_likely"), theme.next_molt, fill=theme.next_fill),
        Key(say("life.legend_even"), theme.next_molt, fill=theme.next_core),
    ]


def _heads(glance: ShelfGlance) -> str:
    return some(sum(row.specimen.lot_size for row in glance.rows), "animal")


def _caption(glance: ShelfGlance, look: Look) -> str:
    return say(
        "shelf.caption",
        day=measures.day(glance.on, look.settings.date_order),
        animals=_heads(glance),
        resting=sum(row.rest is not None for row in glance.rows),
        waiting=sum(_late(row) for row in glance.rows),
    )
