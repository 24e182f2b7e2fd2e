"""What the storage tests are given: a shelf to write to, and short ways to say who and what."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal

from bot.terms import Entry, KeeperSettings, Kind, Specimen
from storage import Store
from storage.records import Keeper

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=UTC)
TODAY = date(2026, 5, 14)


@dataclass
class Shelf:
    """A store with a keeper's shelf, and short ways to write to it, each a transaction of its own."""

    store: Store
    keeper: Keeper

    @property
    def id(self) -> int:
        return self.keeper.shelf_id

    def _change(self, work, origin=None) -> int:
        return work.journal.change(self.id, self.keeper.id, at=NOW, origin=origin)

    def add(self, *specimens: Specimen, on: date = date(2026, 1, 1)) -> int:
        with self.store.begin() as work:
            change = self._change(work)
            for specimen in specimens:
                work.shelves.add(change, specimen, on=on)
            return change

    def log(self, *entries: Entry, origin: str | None = None) -> int:
        with self.store.begin() as work:
            change = self._change(work, origin)
            work.journal.log(change, entries, zone="UTC")
            return change

    def replace(self, old: list[int], *entries: Entry) -> int:
        with self.store.begin() as work:
            change = self._change(work)
            work.journal.replace(change, old, entries, zone="UTC")
            return change

    def alter(self, tag: str, /, **fields) -> int:
        with self.store.begin() as work:
            change = self._change(work)
            work.shelves.alter(change, tag, **fields)
            return change

    def undo(self, change: int) -> bool:
        with self.store.begin() as work:
            return work.journal.undo(change, at=NOW)

    def redo(self, change: int) -> bool:
        with self.store.begin() as work:
            return work.journal.redo(change, at=NOW)

    def facts(self, tag: str):
        with self.store.look() as work:
            return next(iter(work.shelves.facts(self.id, tags=[tag])), None)

    def all_facts(self):
        with self.store.look() as work:
            return work.shelves.facts(self.id)

    def specimens(self, *, gone: bool = False):
        with self.store.look() as work:
            return work.shelves.specimens(self.id, gone=gone)

    def entries(self, **chosen):
        with self.store.look() as work:
            return work.journal.entries(self.id, **chosen)

    def revision(self) -> int:
        with self.store.look() as work:
            return work.shelves.revision(self.id)


AMOUNTS = frozenset(
    (
        "ml",
        "span_cm",
        "carapace_mm",
        "weight_g",
        "volume_l",
        "substrate_cm",
        "temp_c",
        "humidity_pct",
        "price",
    )
)


def specimen(tag: str, **fields) -> Specimen:
    """An invented specimen."""
    return Specimen(tag=tag, **{"species": "Grammostola pulchra"} | fields)


def entry(kind: str, *tags: str, day: date = TODAY, **fields) -> Entry:
    """An entry of today."""
    amounts = {
        name: Decimal(value) if isinstance(value, str) and name in AMOUNTS else value
        for name, value in fields.items()
    }
    return Entry(kind=Kind(kind), specimens=tags, day=day, **amounts)


def shelf_in(store: Store, name: str = "Ash (invented)") -> Shelf:
    """A new keeper's shelf."""
    with store.begin() as work:
        return Shelf(store, work.keepers.create(name, KeeperSettings(), at=NOW))
