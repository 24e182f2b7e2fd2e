"""Meals over the months: bars of meals taken, and on top of them those refused."""

from __future__ import annotations

from typing import Final

from bot.pictures import measures
from bot.pictures.data import Meals, MonthOfMeals
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import say, some

_HEIGHT: Final = 1000
_TOP, _BOTTOM = 210.0, 790.0
_LEFT: Final = 130.0
_MOST_MONTHS: Final = 24
"""Months that are told apart; of a longer record the latest are shown."""


def meals_chart(meals: Meals, look: Look) -> Picture:
    """Meals taken and refused in each month, the latest two years at most."""
    return picture(look, _HEIGHT, lambda board: _draw(board, meals))


def _draw(board: Board, meals: Meals) -> str:
    theme = board.theme
    months = meals.months[-_MOST_MONTHS:]
    taken, refused = sum(month.taken for month in months), sum(month.refused for month in months)
    told = say("meals.told", taken=taken, refused=refused)
    board.head(say("meals.title", who=meals.who), told)
    high = max((month.taken + month.refused for month in months), default=0)
    count = max(1, len(months))
    panel = board.panel((_LEFT, _TOP, WIDTH - MARGIN, _BOTTOM), (0, count), (0, max(4, high * 1.12)))
    panel.values(whole=True)
    for place, month in enumerate(months):
        x = (place + 0.14, place + 0.86)
        panel.area(x, (0, month.taken), fill=theme.taken, z=2)
        if month.refused:
            refused_part = (month.taken, month.taken + month.refused)
            panel.area(x, refused_part, fill=theme.panel, edge=theme.refused, hatch="xx", line=3, z=2.1)
    _month_names(board, months, [panel.px(place + 0.5) for place in range(len(months))])
    board.legend(
        _BOTTOM + 96,
        [
            Key(say("life.taken_lane"), theme.taken, fill=theme.taken),
            Key(say("life.refused_lane"), theme.refused, fill=theme.panel, hatch="xx"),
        ],
    )
    return say("meals.caption", who=meals.who, told=told, months=some(len(months), "month"))


def _month_names(board: Board, months: tuple[MonthOfMeals, ...], xs: list[float]) -> None:
    """As many names as there is room for, January always first among them."""
    step = 1 if len(months) <= 9 else 3
    for place, (month, x) in enumerate(zip(months, xs, strict=True)):
        if (month.month.month - 1) % step:
            continue
        muted = board.theme.muted
        board.write(x, _BOTTOM + 36, measures.month(month.month), size=SMALL, color=muted, side="center")
        if month.month.month == 1 or place < step:
            board.write(x, _BOTTOM + 70, str(month.month.year), size=SMALL, color=muted, side="center")
