"""An animal's weight over time, with its molts."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from bot.pictures import measures
from bot.pictures.data import Weights
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.naming import kind_of, name_and_tag
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import say

_HEIGHT: Final = 1080
_TOP, _BOTTOM = 270.0, 820.0
_LEFT: Final = 150.0
_SHORTEST: Final = 30
"""Days that the axis shows at least."""


def weight_chart(weights: Weights, look: Look) -> Picture:
    """Weights in grams. Raises ``ValueError`` where none is on record."""
    if not weights.weights:
        raise ValueError(say("nothing.no_weight", who=weights.specimen.called))
    return picture(look, _HEIGHT, lambda board: _draw(board, weights))


def _draw(board: Board, weights: Weights) -> str:
    theme, order = board.theme, board.look.settings.date_order
    specimen = weights.specimen
    name, tag = name_and_tag(specimen)
    board.head(name, kind_of(specimen), tail=tag, italic=specimen.species)
    on, latest = weights.weights[-1]
    told = say("weight.told", weight=measures.GRAMS.told(latest), day=measures.day(on, order))
    board.lines(172, [told], size=SMALL + 2)
    board.write(MARGIN, _TOP - 14, say("weight.axis"), size=SMALL, color=theme.muted)
    first = min(weights.first, weights.last - timedelta(days=_SHORTEST))
    high = max(grams for _, grams in weights.weights)
    panel = board.panel(
        (_LEFT, _TOP, WIDTH - MARGIN, _BOTTOM),
        (first.toordinal() - 1, weights.last.toordinal() + 2),
        (0, high * 1.2),
    )
    panel.calendar()
    panel.values()
    for molt in weights.molts:
        panel.upright(molt.toordinal(), theme.molt, dashes=True)
    panel.marks(
        [molt.toordinal() for molt in weights.molts], [high * 1.15] * len(weights.molts), "D", theme.molt
    )
    xs = [day.toordinal() for day, _ in weights.weights]
    ys = [grams for _, grams in weights.weights]
    panel.line(xs, ys, theme.ink, width=4)
    panel.marks(xs, ys, "o", theme.ink, size=18)
    keys = [Key(say("weight.weighed"), theme.ink, marker="o")]
    if weights.molts:
        keys.append(Key(say("life.legend_molt"), theme.molt, marker="D"))
    board.legend(_BOTTOM + 96, keys)
    return say("weight.caption", who=specimen.called, told=told, n=len(weights.weights))
