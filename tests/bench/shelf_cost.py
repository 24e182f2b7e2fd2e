"""What a large shelf costs: putting it in, working out its states anew, its round."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from datetime import UTC
from pathlib import Path

from bot.demo.fill import put_up
from bot.demo.shelf import crowd, demo_shelf
from bot.demo.simulator import journal_of
from bot.round.worklist import worklist
from bot.terms import KeeperSettings
from storage import Store
from storage.bulk import fill
from tests.bench.messages import NOW
from tests.bench.timing import Line, median_of, seconds, shown

_ANIMALS = 1000
_AT = NOW.astimezone(UTC)


def lines(*, years: int) -> Iterator[Line]:
    """The demo shelf, then 1,000 animals over some years."""
    yield Line(what="demo shelf into a store in memory", figure=shown(seconds(_demo)))
    residents = crowd(_ANIMALS, seed=3)
    made: list = []
    simulated = seconds(lambda: made.extend(journal_of(residents, seed=3, end=NOW.date(), days=365 * years)))
    yield Line(what=f"simulate {len(made):,} entries of {_ANIMALS:,} animals", figure=shown(simulated))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.db"
        store = Store.open(f"sqlite:///{path}")
        with store.begin() as work:
            keeper = work.keepers.create("Bench", KeeperSettings(zone="Europe/London"), at=_AT)
        specimens = [resident.specimen for resident in residents]

        def put_in() -> None:
            with store.begin() as work:
                fill(work, keeper.shelf_id, keeper.id, specimens, made, at=_AT, zone="Europe/London")

        yield Line(what="  put them into a store", figure=shown(seconds(put_in)))
        made.clear()  # or every round would be charged with looking through them for what may be freed

        def rebuild() -> None:
            with store.begin() as work:
                work.journal.rebuild(keeper.shelf_id)

        yield Line(what="  work out all states anew", figure=shown(seconds(rebuild)))

        def todays_round() -> None:
            with store.look() as work:
                worklist(work.shelves.facts(keeper.shelf_id), NOW.date())

        taken = median_of(7, todays_round)
        store.close()
        floor = _state_rows(path)
        yield Line(
            what=f"round for {_ANIMALS:,} animals",
            figure=shown(taken),
            beside=f"raw sqlite3, the state rows {shown(floor)}",
            ratio=taken / floor,
        )


def _demo() -> None:
    store = Store.open("sqlite://")
    put_up(store, demo_shelf(), now=_AT, zone="Europe/London", contact=("terminal", "bench"))
    store.close()


def _state_rows(path: Path) -> float:
    database = sqlite3.connect(path)
    query = "SELECT s.*, t.facts FROM specimen s JOIN state t ON t.specimen_id = s.id ORDER BY s.position"
    try:
        return median_of(7, lambda: database.execute(query).fetchall())
    finally:
        database.close()
