"""What a chart costs: the first of a process, and each kind once matplotlib is there, beside a bare figure.

The floor is matplotlib alone drawing one line of the same size, cold and warm, in processes of their own.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from datetime import UTC
from functools import partial
from io import BytesIO
from pathlib import Path

from tests.bench.messages import NOW
from tests.bench.timing import Line, medians, own_seconds, shown

_ROOT = Path(__file__).parents[2]
_RUNS, _STARTS = 7, 3
_FIRST_LIMIT_S, _LATER_LIMIT_S = 1.2, 0.12
#: The same limits as parts of what a bare figure took where they were set, 885 ms cold and 119 ms warm: on a
#: machine of another speed it is these that tell.
_FIRST_LIMIT, _LATER_LIMIT = 1.2 / 0.885, 0.12 / 0.119


def lines() -> Iterator[Line]:
    """The first picture of a process and each kind after it."""
    bare = [_asked("bare") for _ in range(_STARTS)]
    drawn = [_asked("drawn") for _ in range(_STARTS)]
    first, floor = medians(run["first"] for run in drawn), medians(run["first"] for run in bare)
    yield _line("first picture of a process", first, floor, _FIRST_LIMIT_S, _FIRST_LIMIT)
    floor = medians(run["later"] for run in bare)
    for kind in drawn[0]:
        if kind != "first":
            later = medians(run[kind] for run in drawn)
            yield _line(f"  later, {kind}", later, floor, _LATER_LIMIT_S, _LATER_LIMIT)


def _line(what: str, taken: float, floor: float, limit_s: float, limit: float) -> Line:
    return Line(
        what=what,
        figure=shown(taken),
        beside=f"matplotlib alone, one line {shown(floor)}",
        ratio=taken / floor,
        limit=f"<= {limit_s * 1000:.0f} ms or {limit:.2f}",
        kept=taken <= limit_s or taken / floor <= limit,
    )


def _asked(what: str) -> dict[str, float]:
    command = [sys.executable, "-m", "tests.bench.pictures_cost", what]
    found: dict[str, float] = json.loads(subprocess.check_output(command, cwd=_ROOT))
    return found


# -- in a process of its own ------------------------------------------------------------------


def _bare() -> dict[str, float]:
    def figure() -> None:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

        drawn = Figure(figsize=(7.2, 9.0), dpi=150)
        drawn.add_subplot().plot([0, 1, 2], [0, 1, 0])
        FigureCanvasAgg(drawn).print_png(BytesIO())

    return {"first": _wall(figure), "later": medians(own_seconds(figure) for _ in range(_RUNS))}


def _drawn() -> dict[str, float]:
    from bot.demo.fill import put_up
    from bot.demo.shelf import demo_shelf
    from storage import Store

    at = NOW.astimezone(UTC)
    store = Store.open("sqlite://")
    keeper = put_up(store, demo_shelf(), now=at, zone="Europe/London", contact=("terminal", "bench"))
    with store.look() as work:
        facts = work.shelves.facts(keeper.shelf_id)
        rows = work.journal.entries(keeper.shelf_id, newest_first=False)
    entries = [row.entry for row in rows]
    animal = max(
        facts, key=lambda one: sum(one.specimen.tag in entry.specimens for entry in entries)
    ).specimen
    begun = time.perf_counter()

    from bot.pictures.data import PictureKind
    from bot.pictures.drawing import NothingToShowError, ShelfRecords, draw
    from bot.pictures.theme import Look

    shelf = ShelfRecords(on=NOW.date(), facts=facts, entries=entries)
    look = Look.of(keeper.settings, dark=False)
    draw(PictureKind.LIFE, shelf, look, animal=animal)
    times = {"first": time.perf_counter() - begun}
    for kind in PictureKind:
        for one in facts:
            who = one.specimen
            about = {"species": who.species} if kind is PictureKind.MOLTS else {"animal": who}
            try:
                pictures = len(draw(kind, shelf, look, **about))
            except NothingToShowError:
                continue
            again = partial(draw, kind, shelf, look, **about)
            times[kind.value] = medians(own_seconds(again) for _ in range(_RUNS)) / pictures
            break
    return times


def _wall(act: Callable[[], object]) -> float:
    begun = time.perf_counter()
    act()
    return time.perf_counter() - begun


if __name__ == "__main__":
    print(json.dumps({"bare": _bare, "drawn": _drawn}[sys.argv[1]]()))
