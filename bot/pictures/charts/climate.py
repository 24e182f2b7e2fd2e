"""The climate of each place against the temperatures that suit every species there."""

from __future__ import annotations

from typing import Final

from bot.pictures import measures
from bot.pictures.data import Climate, PlaceClimate, Reading
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.panel import Panel, Span
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import say, some

PLACES: Final = 6
"""Places on one picture; more take several."""

_TOP: Final = 190.0
_PLOT, _GAP = 190.0, 78.0
_LEFT: Final = 130.0
_ROOM: Final = 2.0
"""Degrees Celsius left free above and below."""


def climate_charts(climate: Climate, look: Look) -> list[Picture]:
    """Temperatures over time, a plot for each place; none where nothing was read."""
    read = [place for place in climate.places if any(one.temp_c is not None for one in place.readings)]
    parts = [tuple(read[start : start + PLACES]) for start in range(0, len(read), PLACES)]
    return [_chart(climate, part, look) for part in parts]


def _chart(climate: Climate, places: tuple[PlaceClimate, ...], look: Look) -> Picture:
    height = round(_TOP + len(places) * (_PLOT + _GAP) + 280)

    def draw(board: Board) -> str:
        order = look.settings.date_order
        first, last = measures.day(climate.first, order), measures.day(climate.last, order)
        unit = measures.temperature(look.settings.units)
        board.head(say("climate.title"), say("climate.told", first=first, last=last, unit=unit.unit))
        y, outside = _TOP, 0
        limits = _limits(places, unit)
        for place in places:
            panel = _place(board, place, (climate.first.toordinal(), climate.last.toordinal()), y, limits)
            panel.calendar(labels=place is places[-1])
            outside += len(_outside(place))
            y += _PLOT + _GAP
        board.legend(y + 52, _keys(board))
        return say("climate.caption", first=first, last=last, outside=some(outside, "reading"))

    return picture(look, height, draw)


def _limits(places: tuple[PlaceClimate, ...], unit: measures.Measure) -> Span:
    """One scale for all, so that places can be compared."""
    temps = [one.temp_c for place in places for one in place.readings if one.temp_c is not None]
    temps += [edge for place in places if place.band for edge in place.band]
    return unit.of(min(temps) - _ROOM), unit.of(max(temps) + _ROOM)


def _place(board: Board, place: PlaceClimate, x: Span, top: float, limits: Span) -> Panel:
    theme, unit = board.theme, measures.temperature(board.look.settings.units)
    panel = board.panel((_LEFT, top + 44, WIDTH - MARGIN, top + 44 + _PLOT), (x[0] - 1, x[1] + 1), limits)
    band = (
        say("climate.band", low=unit.told(place.band[0]), high=unit.told(place.band[1]))
        if place.band
        else say("climate.no_band")
    )
    told = board.write(WIDTH - MARGIN, top + 32, band, size=SMALL, side="right", color=theme.muted)
    board.write(MARGIN, top + 32, place.place, bold=True, room=told.left - MARGIN - 20)
    if place.band:
        edges = (unit.of(place.band[0]), unit.of(place.band[1]))
        panel.area(panel.x, edges, fill=theme.band_fill, z=1)
        for edge in edges:
            panel.line(list(panel.x), [edge, edge], theme.band, width=2)
    panel.values(most=3)
    read = [(one.on.toordinal(), unit.of(one.temp_c)) for one in place.readings if one.temp_c is not None]
    panel.line([on for on, _ in read], [value for _, value in read], theme.muted, width=2)
    out = {one.on.toordinal() for one in _outside(place)}
    inside = [point for point in read if point[0] not in out]
    outside = [point for point in read if point[0] in out]
    size = 8.0 if len(read) > 60 else 12.0
    panel.marks([on for on, _ in inside], [value for _, value in inside], "o", theme.taken, size=size)
    panel.marks([on for on, _ in outside], [value for _, value in outside], "^", theme.refused, size=20)
    return panel


def _outside(place: PlaceClimate) -> list[Reading]:
    if place.band is None:
        return []
    low, high = place.band
    return [one for one in place.readings if one.temp_c is not None and not low <= one.temp_c <= high]


def _keys(board: Board) -> list[Key]:
    theme = board.theme
    return [
        Key(say("climate.inside"), theme.taken, marker="o"),
        Key(say("climate.outside"), theme.refused, marker="^"),
        Key(say("climate.suits"), theme.band, fill=theme.band_fill),
    ]
