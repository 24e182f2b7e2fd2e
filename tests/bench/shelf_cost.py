"""What a large shelf costs: putting it in, working out its states anew, its round, its forecasts."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from datetime import UTC
from pathlib import Path

from bot.demo.fill import put_up
from bot.demo.shelf import Resident, crowd, demo_shelf
from bot.demo.simulator import journal_of
from bot.round.worklist import worklist
from bot.terms import Entry, KeeperSettings
from storage import Store
from storage.bulk import fill
from storage.records import Keeper
from tests.bench.messages import NOW
from tests.bench.timing import Line, median_of, medians, seconds, shown

_ANIMALS = 1000
_AT = NOW.astimezone(UTC)
_COLD_RUNS = 7
_LIMIT_S = 0.050
_FORECASTS_LIMIT_S = 2.0


def lines(*, years: int) -> Iterator[Line]:
    """The demo shelf, then 1,000 animals over some years, and parts of them on shelves of their own."""
    yield Line(what="demo shelf into a store in memory", figure=shown(seconds(_demo)))
    residents = crowd(_ANIMALS, seed=3)
    made: list[Entry] = []
    simulated = seconds(lambda: made.extend(journal_of(residents, seed=3, end=NOW.date(), days=365 * years)))
    yield Line(what=f"simulate {len(made):,} entries of {_ANIMALS:,} animals", figure=shown(simulated))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.db"
        store = Store.open(f"sqlite:///{path}")
        keeper = _new_keeper(store, "Bench")
        yield Line(
            what="  put them into a store",
            figure=shown(seconds(lambda: _put_in(store, keeper, residents, made))),
        )

        def rebuild() -> None:
            with store.begin() as work:
                work.journal.rebuild(keeper.shelf_id)

        yield Line(what="  work out all states anew", figure=shown(seconds(rebuild)))
        parts = {}
        for part in (4, 2):
            some = residents[: _ANIMALS // part]
            tags = {one.specimen.tag for one in some}
            other = _new_keeper(store, f"Part {part}")
            parts[part] = other.shelf_id
            _put_in(store, other, some, [entry for entry in made if tags.issuperset(entry.specimens)])
        made.clear()  # or every round would be charged with looking through them for what may be freed
        yield from _rounds(store, path, keeper.shelf_id, parts)
        yield from _forecasts(path, keeper.shelf_id, parts)
        store.close()


def _rounds(store: Store, path: Path, shelf_id: int, parts: dict[int, int]) -> Iterator[Line]:
    floor = _state_rows(path, shelf_id)
    cold = medians(_first("round", path, shelf_id) for _ in range(_COLD_RUNS))
    yield Line(
        what=f"round for {_ANIMALS:,} animals, store just opened",
        figure=shown(cold),
        beside=f"raw sqlite3, the state rows {shown(floor)}",
        ratio=cold / floor,
        limit=f"<= {shown(_LIMIT_S)}",
        kept=cold <= _LIMIT_S,
    )
    whole = median_of(_COLD_RUNS, lambda: _round(store, shelf_id))
    yield Line(what="  once more, store in use", figure=shown(whole), ratio=whole / floor)
    for part, number in parts.items():
        taken = median_of(_COLD_RUNS, lambda number=number: _round(store, number))  # type: ignore[misc]
        yield Line(
            what=f"  of {_ANIMALS // part:,} of them",
            figure=shown(taken),
            beside=f"{whole / taken / part:.2f} times a straight line to all",
        )


def _forecasts(path: Path, shelf_id: int, parts: dict[int, int]) -> Iterator[Line]:
    whole = medians(_first("forecasts", path, shelf_id) for _ in range(_COLD_RUNS))
    yield Line(
        what=f"forecasts of {_ANIMALS:,} animals, store just opened, reading included",
        figure=shown(whole),
        limit=f"<= {_FORECASTS_LIMIT_S:.0f} s",
        kept=whole <= _FORECASTS_LIMIT_S,
    )
    for part, number in parts.items():
        taken = medians(_first("forecasts", path, number) for _ in range(_COLD_RUNS))
        yield Line(
            what=f"  of {_ANIMALS // part:,} of them",
            figure=shown(taken),
            beside=f"{whole / taken / part:.2f} times a straight line to all",
        )


def _new_keeper(store: Store, called: str) -> Keeper:
    with store.begin() as work:
        return work.keepers.create(called, KeeperSettings(zone="Europe/London"), at=_AT)


def _put_in(store: Store, keeper: Keeper, residents: Sequence[Resident], entries: Sequence[Entry]) -> None:
    specimens = [resident.specimen for resident in residents]
    with store.begin() as work:
        fill(work, keeper.shelf_id, keeper.id, specimens, entries, at=_AT, zone="Europe/London")


def _round(store: Store, shelf_id: int) -> None:
    with store.look() as work:
        worklist(work.shelves.facts(shelf_id), NOW.date())


def _first(what: str, path: Path, shelf_id: int) -> float:
    """Seconds that the round, or all forecasts, take a process which has only just opened the store."""
    asked = [sys.executable, "-m", "tests.bench.cold_start", what]
    told = [f"sqlite:///{path}", str(shelf_id), NOW.date().isoformat()]
    return float(subprocess.run([*asked, *told], check=True, capture_output=True, text=True).stdout)


def _demo() -> None:
    store = Store.open("sqlite://")
    put_up(store, demo_shelf(), now=_AT, zone="Europe/London", contact=("terminal", "bench"))
    store.close()


def _state_rows(path: Path, shelf_id: int) -> float:
    database = sqlite3.connect(path)
    query = """
        SELECT s.*, t.facts FROM specimen s JOIN state t ON t.specimen_id = s.id
        WHERE s.shelf_id = ? ORDER BY s.position
    """
    try:
        return median_of(7, lambda: database.execute(query, (shelf_id,)).fetchall())
    finally:
        database.close()
