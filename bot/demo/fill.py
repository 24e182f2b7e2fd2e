"""Puts the demo shelf into a store."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from bot.demo.shelf import DemoShelf
from bot.demo.simulator import YEAR_AND_A_HALF, journal_of
from storage import Store
from storage.bulk import fill
from storage.records import Keeper

#: Who recorded what was there before: nobody with a name, so that no line says by whom.
_SCRIBE: Final = ""


def put_up(store: Store, shelf: DemoShelf, *, now: datetime, zone: str, contact: tuple[str, str]) -> Keeper:
    """Makes the demo's keeper with all animals and entries up to ``now``, in one transaction.

    ``zone`` becomes the keeper's; ``contact`` is the front end and address they talk from. The
    questions of the first day count as answered. The entries are recorded by another hand, so that
    the keeper's "undo" never takes back the whole shelf.
    """
    today = now.astimezone(ZoneInfo(zone)).date()
    entries = journal_of(shelf.residents, seed=shelf.seed, end=today)
    came = {
        resident.specimen.tag: today - timedelta(days=resident.on_shelf_days or YEAR_AND_A_HALF)
        for resident in shelf.residents
    }
    with store.begin() as work:
        keeper = work.keepers.create(shelf.keeper, replace(shelf.settings, zone=zone), at=now)
        work.keepers.link(keeper.id, *contact)
        work.keepers.mark_settled(keeper.id)
        scribe = work.keepers.create(_SCRIBE, keeper.settings, at=now)
        change_id = fill(
            work,
            keeper.shelf_id,
            scribe.id,
            [resident.specimen for resident in shelf.residents],
            entries,
            at=now,
            zone=zone,
            added_on=came,
        )
        for resident in shelf.residents:
            if resident.held_days is not None:
                since = today - timedelta(days=resident.held_days)
                work.holds.set(change_id, [resident.specimen.tag], since=since, until=None)
        return work.keepers.get(keeper.id)
