"""The days since water, how long a watering lasts, and when the next is likely due."""

from __future__ import annotations

from datetime import timedelta
from itertools import pairwise
from typing import Final

from bot.pictures import measures
from bot.pictures.data import Moistures
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.naming import kind_of, name_and_tag
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import days, say, some

_HEIGHT: Final = 1140
_TOP, _BOTTOM = 270.0, 800.0
_LEFT: Final = 150.0
_SHOWN: Final = 75
"""Days that are looked back at most."""


def moisture_chart(moistures: Moistures, look: Look) -> Picture:
    """The days since water up to the next. Raises ``ValueError`` where no watering is on record."""
    if not moistures.watered:
        raise ValueError(say("nothing.no_watering", who=moistures.specimen.called))
    return picture(look, _HEIGHT, lambda board: _draw(board, moistures))


def _draw(board: Board, moistures: Moistures) -> str:
    theme, order = board.theme, board.look.settings.date_order
    specimen, latest = moistures.specimen, moistures.watered[-1]
    name, tag = name_and_tag(specimen)
    board.head(name, kind_of(specimen), tail=tag, italic=specimen.species)
    early, late = (latest + timedelta(days=ahead) for ahead in (moistures.early, moistures.late))
    told = say(
        "moisture.told",
        day=measures.day(latest, order),
        first=measures.short_day(early, order),
        last=measures.short_day(late, order),
    )
    board.lines(172, [told], size=SMALL + 2)
    board.write(MARGIN, _TOP - 14, say("moisture.axis"), size=SMALL, color=theme.muted)
    first = max(moistures.watered[0], moistures.last - timedelta(days=_SHOWN))
    shown = [day for day in moistures.watered if day >= first]
    gaps = [(later - earlier).days for earlier, later in pairwise([*shown, moistures.last])]
    high = max(*gaps, moistures.late, 1) * 1.25
    end = max(late, moistures.last).toordinal() + 2
    panel = board.panel((_LEFT, _TOP, WIDTH - MARGIN, _BOTTOM), (first.toordinal() - 1, end), (0, high))
    panel.area(panel.x, (moistures.early, moistures.late), fill=theme.band_fill, z=1)
    panel.calendar()
    panel.values(whole=True)
    for ahead in (moistures.early, moistures.late):
        panel.line(list(panel.x), [ahead, ahead], theme.band, width=2)
    for start, gap in zip(shown, gaps, strict=True):
        panel.line([start.toordinal(), start.toordinal() + gap], [0, gap], theme.ink, width=4)
    passed = (moistures.last - latest).days
    if passed < moistures.late:
        panel.line(
            [moistures.last.toordinal(), late.toordinal()], [passed, moistures.late], theme.muted, dashes=True
        )
    panel.marks([day.toordinal() for day in shown], [0] * len(shown), "o", theme.molt, size=16)
    panel.upright(moistures.last.toordinal(), theme.muted, dashes=True)
    today = panel.px(moistures.last.toordinal())
    board.write(min(today, WIDTH - MARGIN - 50), _TOP - 14, say("life.today"), size=SMALL, side="center")
    keys = [
        Key(say("moisture.watered"), theme.molt, marker="o"),
        Key(say("moisture.lasts"), theme.band, fill=theme.band_fill),
    ]
    below = board.legend(_BOTTOM + 96, keys)
    lasts = say("moisture.days", low=moistures.early, high=days(moistures.late))
    basis = say(f"basis.{moistures.basis}")
    told_below = [say("moisture.basis", days=lasts, basis=basis), say("moisture.decides")]
    board.lines(below, told_below, size=SMALL)
    count = some(len(shown), "watering")
    return say("moisture.caption", who=specimen.called, told=told, count=count, basis=basis)
