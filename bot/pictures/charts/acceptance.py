"""How often food was taken, by the days left to the next molt."""

from __future__ import annotations

from math import sqrt
from typing import Final

from bot.pictures.data import Acceptance, AcceptanceBin
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import say, some

_HEIGHT: Final = 1080
_TOP, _BOTTOM = 270.0, 790.0
_LEFT: Final = 150.0
_Z95: Final = 1.959964


def acceptance_chart(acceptance: Acceptance, look: Look) -> Picture:
    """Shares taken with their 95 % ranges (Wilson 1927). Raises ``ValueError`` where nothing is counted."""
    if not any(part.offered for part in acceptance.bins):
        raise ValueError(say("nothing.no_acceptance", who=acceptance.who))
    return picture(look, _HEIGHT, lambda board: _draw(board, acceptance))


def wilson(taken: int, offered: int) -> tuple[float, float]:
    """The 95 % score interval of a share (Wilson, J. Am. Stat. Assoc. 22, 1927; from memory)."""
    share, z2 = taken / offered, _Z95**2
    middle = (share + z2 / (2 * offered)) / (1 + z2 / offered)
    half = _Z95 * sqrt(share * (1 - share) / offered + z2 / (4 * offered**2)) / (1 + z2 / offered)
    return max(0.0, middle - half), min(1.0, middle + half)


def _draw(board: Board, acceptance: Acceptance) -> str:
    theme = board.theme
    offered = sum(part.offered for part in acceptance.bins)
    told = say(
        "acceptance.told",
        meals=some(offered, "meal"),
        molts=some(acceptance.molts, "molt"),
        animals=some(acceptance.animals, "animal"),
    )
    board.head(say("acceptance.title"), acceptance.who)
    board.lines(172, [told], size=SMALL + 2)
    bins = acceptance.bins[::-1]
    panel = board.panel((_LEFT, _TOP, WIDTH - MARGIN, _BOTTOM), (0, len(bins)), (0, 1))
    panel.rules(horizontal=[0, 0.25, 0.5, 0.75, 1])
    for share in (0, 0.5, 1):
        panel.row_label(share, say("acceptance.percent", n=round(share * 100)))
    for place, part in enumerate(bins):
        middle = panel.px(place + 0.5)
        board.write(middle, _BOTTOM + 38, _days(part), size=SMALL, side="center", color=theme.muted)
        board.write(middle, _BOTTOM + 74, f"n {part.offered}", size=SMALL, side="center", color=theme.muted)
        if not part.offered:
            continue
        panel.area((place + 0.16, place + 0.84), (0, part.taken / part.offered), fill=theme.taken, z=2)
        low, high = wilson(part.taken, part.offered)
        panel.line([place + 0.5, place + 0.5], [low, high], theme.ink, width=5)
        panel.marks([place + 0.5] * 2, [low, high], "_", theme.ink, size=22)
    board.write(
        (_LEFT + WIDTH - MARGIN) / 2, _BOTTOM + 118, say("acceptance.axis"), size=SMALL, side="center"
    )
    keys = [
        Key(say("acceptance.share"), theme.taken, fill=theme.taken),
        Key(say("acceptance.range"), theme.ink, marker="|"),
    ]
    board.legend(_BOTTOM + 150, keys)
    return say("acceptance.caption", who=acceptance.who, told=told)


def _days(part: AcceptanceBin) -> str:
    return f"{part.low}+" if part.high is None else f"{part.low}–{part.high}"
