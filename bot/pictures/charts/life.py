"""An animal's life: span steps at molts, meals taken and refused, sealed stretches, the next molt."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from bot.pictures import measures
from bot.pictures.data import Life, StretchKind
from bot.pictures.frame import Board, Key, Picture, picture
from bot.pictures.naming import kind_of, name_and_tag
from bot.pictures.panel import Panel, Span
from bot.pictures.theme import MARGIN, SMALL, WIDTH, Look
from bot.pictures.words import days, say, some

HEIGHT: Final = 1320
_LEFT: Final = 200.0
_RIGHT: Final = WIDTH - MARGIN
_HATCHES: Final = {StretchKind.SEALED: "//", StretchKind.PREMOLT: ".."}
#: A next molt far off must not press the life on record into a corner: the axis ends here at the latest,
#: at this part of the days on record.
_FURTHEST_PART: Final = 0.6
_SMALLEST_MARK: Final = 13.0
_SHORTEST: Final = 45
"""Days that the axis shows at least."""


def life_chart(life: Life, look: Look) -> Picture:
    """One animal's life, at most 1080 by 1320 pixels."""
    return picture(look, HEIGHT, lambda board: _draw(board, life))


def _draw(board: Board, life: Life) -> str:
    specimen = life.specimen
    name, tag = name_and_tag(specimen)
    y = board.head(name, kind_of(specimen), tail=tag, italic=specimen.species)
    y = board.lines(y, _told(life, board.look), size=SMALL + 2)
    x = _days_shown(life)
    spans = _span_panel(board, life, x, y + 50)
    meals = _meal_panel(board, life, x, spans.box[3] + 84)
    meals.calendar()
    spans.calendar(labels=False)
    for panel in (spans, meals):
        _stretches(panel, life)
        _next_molt(panel, life)
        panel.upright(life.last.toordinal(), board.theme.ink, dashes=True)
    board.write(
        spans.px(life.last.toordinal()),
        spans.box[1] - 12,
        say("life.today"),
        size=SMALL,
        side="center" if spans.px(life.last.toordinal()) < _RIGHT - 50 else "right",
    )
    board.legend(meals.box[3] + 92, _keys(board, life))
    return _caption(life, board.look)


def _days_shown(life: Life) -> Span:
    first = min(life.first, life.last - timedelta(days=_SHORTEST)).toordinal()
    last = life.last.toordinal()
    ahead = life.next_molt.late.toordinal() - last if life.next_molt else 0
    room = max(_SHORTEST, round((last - first) * _FURTHEST_PART))
    return first, last + max(round((last - first) * 0.04), min(ahead + 5, room))


# --- panels ---------------------------------------------------------------------------------


def _span_panel(board: Board, life: Life, x: Span, top: float) -> Panel:
    length = measures.length(board.look.settings.units)
    steps = _steps(life, length)
    values = [value for _, value in steps]
    high = max(values, default=1.0) * 1.25
    panel = board.panel((_LEFT - 80, top, _RIGHT, top + 400), x, (0.0, high))
    if not steps:
        board.write(MARGIN, top - 12, say("life.no_span"), size=SMALL, color=board.theme.muted)
        _molt_marks(panel, life, [(x[0], 0.5)])
        return panel
    board.write(MARGIN, top - 12, say("life.span", unit=length.unit), size=SMALL, color=board.theme.muted)
    panel.values()
    xs = [day for day, _ in steps]
    measured = bool(life.spans)
    panel.line(
        [*xs, max(life.last.toordinal(), xs[-1])],
        [*values, values[-1]],
        board.theme.ink if measured else board.theme.muted,
        width=5 if measured else 3,
        steps=True,
        dashes=not measured,
    )
    if x[0] < xs[0]:
        panel.line([x[0], xs[0]], [values[0], values[0]], board.theme.muted, width=3, dashes=True)
    _molt_marks(panel, life, [(x[0], values[0]), *steps])
    _span_names(panel, steps, length)
    return panel


def _steps(life: Life, length: measures.Measure) -> list[tuple[float, float]]:
    """Day and size of each step; where no span was entered, the one on the animal's card from the start."""
    if life.spans or life.specimen.span_cm is None:
        return [(step.since.toordinal(), length.of(step.value)) for step in life.spans]
    return [(life.first.toordinal(), length.of(life.specimen.span_cm))]


def _span_names(panel: Panel, steps: list[tuple[float, float]], length: measures.Measure) -> None:
    """Each step's figure above it where there is room, the last one always."""
    free = float("inf")
    for day, value in reversed(steps):
        x = min(panel.px(day) + 10, panel.box[2] - 60)
        words = measures.plain(value, length.places)
        width = panel.board.width_of(words, SMALL, bold=True)
        if x + width < free:
            panel.board.write(x, panel.py(value) - 18, words, size=SMALL, bold=True, room=width + 1)
            free = x - 12


def _molt_marks(panel: Panel, life: Life, steps: list[tuple[float, float]]) -> None:
    """A molt stands on the line, at the size that it led to."""
    xs = [molt.toordinal() for molt in life.molts]
    ys = [[value for day, value in steps if day <= x or day == steps[0][0]][-1] for x in xs]
    panel.marks(xs, ys, "D", panel.theme.molt, size=22)


def _meal_panel(board: Board, life: Life, x: Span, top: float) -> Panel:
    panel = board.panel((_LEFT - 80, top, _RIGHT, top + 190), x, (0.0, 2.0))
    board.write(MARGIN, top - 12, say("life.meals"), size=SMALL, color=board.theme.muted)
    panel.rules(horizontal=[1.0])
    lanes = (
        (life.taken, 1.5, "o", board.theme.taken, True),
        (life.refused, 0.5, "x", board.theme.refused, False),
    )
    for found, y, marker, color, filled in lanes:
        xs = [day.toordinal() for day in found]
        panel.marks(xs, [y] * len(xs), marker, color, filled=filled, size=_mark_size(panel, xs))
    return panel


def _mark_size(panel: Panel, xs: list[int]) -> float:
    """Marks that stand close are smaller, so that each can be told."""
    gaps = sorted(later - earlier for earlier, later in pairwise(xs))
    usual = gaps[len(gaps) // 2] if gaps else 30
    return max(_SMALLEST_MARK, min(20.0, (panel.px(usual) - panel.px(0)) * 1.1))


def _stretches(panel: Panel, life: Life) -> None:
    theme = panel.theme
    looks = {
        StretchKind.SEALED: (theme.sealed_fill, theme.sealed),
        StretchKind.PREMOLT: (theme.premolt_fill, theme.premolt),
    }
    for stretch in life.stretches:
        fill, edge = looks[stretch.kind]
        until = stretch.until or life.last
        since = stretch.since.toordinal()
        panel.area(
            (since, max(until.toordinal(), since + 1)),
            fill=fill,
            edge=edge,
            hatch=_HATCHES[stretch.kind],
            z=1.2 if stretch.kind is StretchKind.SEALED else 1.3,
        )


def _next_molt(panel: Panel, life: Life) -> None:
    ahead = life.next_molt
    if ahead is None:
        return
    theme = panel.theme
    panel.area(_within(panel, ahead.early, ahead.late), fill=theme.next_fill, z=1.0)
    panel.area(_within(panel, ahead.even_from, ahead.even_to), fill=theme.next_core, z=1.1)
    for day in (ahead.even_from, ahead.even_to):
        if day.toordinal() <= panel.x[1]:
            panel.upright(day.toordinal(), theme.next_molt, width=2)


def _within(panel: Panel, since: date, until: date) -> Span:
    low, high = panel.x
    return max(low, min(high, since.toordinal())), max(low, min(high, until.toordinal()))


# --- words ----------------------------------------------------------------------------------


def _keys(board: Board, life: Life) -> list[Key]:
    theme = board.theme
    kinds = {stretch.kind for stretch in life.stretches}
    keys = [
        Key(say("life.taken_lane"), theme.taken, marker="o"),
        Key(say("life.refused_lane"), theme.refused, marker="x", filled=False),
    ]
    if life.molts:
        keys.append(Key(say("life.legend_molt"), theme.molt, marker="D"))
    if StretchKind.SEALED in kinds:
        keys.append(Key(say("life.legend_sealed"), theme.sealed, fill=theme.sealed_fill, hatch="//"))
    if StretchKind.PREMOLT in kinds:
        keys.append(Key(say("life.legend_premolt"), theme.premolt, fill=theme.premolt_fill, hatch=".."))
    if life.next_molt is not None:
        keys.append(Key(say("life.legend_likely"), theme.next_fill, fill=theme.next_fill))
        keys.append(Key(say("life.legend_even"), theme.next_molt, fill=theme.next_core))
    return keys


def _told(life: Life, look: Look) -> list[str]:
    """The lines under the title: the last meal, the last molt, the next one."""
    return [line for line in (_fed(life), _molted(life, look), _coming(life, look)) if line]


def _fed(life: Life) -> str:
    if not life.taken:
        return say("life.never_fed")
    ago = (life.last - life.taken[-1]).days
    return say("life.last_fed", ago=days(ago)) if ago else say("life.last_fed_today")


def _molted(life: Life, look: Look) -> str:
    if not life.molts:
        return say("life.never_molted")
    day = measures.day(life.molts[-1], look.settings.date_order)
    return say("life.last_molt", day=day, ago=days((life.last - life.molts[-1]).days))


def _coming(life: Life, look: Look) -> str:
    ahead, order = life.next_molt, look.settings.date_order
    if ahead is None:
        return ""
    return say("life.next", first=measures.day(ahead.early, order), last=measures.day(ahead.late, order))


def _caption(life: Life, look: Look) -> str:
    return say(
        "life.caption",
        who=life.specimen.called,
        species=life.specimen.species,
        first=measures.day(life.first, look.settings.date_order),
        last=measures.day(life.last, look.settings.date_order),
        meals=len(life.taken),
        refused=len(life.refused),
        molts=some(len(life.molts), "molt"),
        fed=_fed(life),
        next=_coming(life, look) or _molted(life, look),
    )
