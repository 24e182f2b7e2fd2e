"""A year of a shelf with kills, outages, wrong clocks, a blocked and a slow Telegram, and impatient thumbs.

A short stretch of it with each run of the tests; the whole year, by one or more seeds:

    BURROWBELL_YEAR=365 pytest -n 0 -s -o faulthandler_timeout=0 tests/year
"""

from __future__ import annotations

import os
from collections import Counter
from datetime import timedelta

import pytest

from bot.terms import Kind
from storage import Store
from storage.checkup import faults_of
from tests.year.world import DONE, KEEPER, KEPT, World

DAYS = int(os.environ.get("BURROWBELL_YEAR", "12"))
SEEDS = [int(seed) for seed in os.environ.get("BURROWBELL_YEAR_SEEDS", "1,2").split(",")]
WHOLE = 365


@pytest.mark.parametrize("seed", SEEDS if DAYS < WHOLE else SEEDS[:1])
def test_a_year_of_mishaps_loses_nothing_doubles_nothing_and_disturbs_nobody(tmp_path, seed):
    share = DAYS / WHOLE
    world = World(
        tmp_path,
        seed=seed,
        days=DAYS,
        kills=max(4, round(45 * share)),  # some fall where it is down anyway
        outages=max(2, round(24 * share)),  # some overlap
        jumps=max(2, 2 * round(6 * share)),
    )
    world.run()
    assert world.kills_done > 0
    assert world.pressed[DONE] > 0, "places are done one by one"
    store = Store.open(world.url)
    report(world)
    check_entries(world, store)
    check_rounds(world, store)
    check_messages(world)
    assert world.prompted_at_rest == []
    assert faults_of(store) == (), "states are what the journal says"
    store.close()


def report(world):
    print(  # noqa: T201  for a run by hand
        f"{world.days} days: {len(world.said)} messages of the keeper, {len(world.telegram.arrived)} sent, "
        f"{world.kills_done} kills, {world.outages_done} stops, {world.jumps_done} jumps of the clock"
    )


def check_entries(world, store):
    """Every message that Telegram could deliver is in the journal once; nobody is fed twice on a day."""
    with store.look() as work:
        rows = work.journal.entries(world.shelf_id)
        stored = Counter()
        for row in rows:
            change = work.journal.get_change(row.change_id)
            stored[change.origin, row.entry.specimens, row.entry.kind] += 1
        waiting = work.inbox.waiting(5)
    assert waiting == ()
    for number, said in world.said.items():
        found = stored[f"{KEEPER}:{number}", (said.tag,), said.kind]
        assert found == (number not in world.telegram.lost), (number, said, found)
    assert all(in_an_outage(world, world.said[number]) for number in world.telegram.lost)
    meals = Counter((row.entry.specimens, row.entry.day) for row in rows if row.entry.kind is Kind.FED)
    assert [meal for meal, n in meals.items() if n > 1] == []
    assert meals


def in_an_outage(world, said):
    """Whether a message came while the program was down, for nearly as long as Telegram keeps it."""
    longest = KEPT - timedelta(hours=9)  # it is up for some hours before it gets to work again
    return any(start <= said.at < end and end - said.at > longest for start, end in world.down)


def check_rounds(world, store):
    """Every day on which the program was up after the round's time has its round, unless nothing was due."""
    with store.look() as work:
        opened = {day for day in world.up_days if work.rounds.of_day(world.keeper_id, day) is not None}
    assert len(opened) > len(world.up_days) / 2
    assert world.up_days - opened - world.nothing_due == set()
    sent = {row.key for row in world.telegram.arrived}
    assert [day for day in sorted(opened) if f"round:{world.keeper_id}:{day}" not in sent] == []


def check_messages(world):
    """What is sent again was sent when the program was killed, once for each kill."""
    sent = Counter(row.id for row in world.telegram.arrived)
    again = sum(n - 1 for n in sent.values())
    assert again <= world.kills_done
    texts = [row.payload["params"].get("text", "") for row in world.telegram.arrived]
    assert not any("could not take that in" in text for text in texts)
