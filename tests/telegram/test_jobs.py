"""The few jobs that serving has, whatever the number of keepers."""

import asyncio
from datetime import UTC, datetime, timedelta

import pytest

from bot.telegram.jobs import KEPT_FOR, ClockWatch, Jobs, sweep
from storage import Store

START = datetime(2026, 3, 27, 8, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("wall_seconds", "steady_seconds", "was_set"),
    [(5, 5, False), (5.4, 5, False), (-86_400, 5, True), (86_400, 5, True), (3600, 3600, False)],
)
def test_a_clock_that_was_set_is_noticed_by_the_steady_one(wall_seconds, steady_seconds, was_set):
    watch = ClockWatch(START, 100.0)
    assert watch.was_set(START + timedelta(seconds=wall_seconds), 100.0 + steady_seconds) is was_set


def test_a_clock_that_was_set_is_noticed_once():
    watch = ClockWatch(START, 0.0)
    back = START - timedelta(days=1)
    assert watch.was_set(back, 5.0)
    assert not watch.was_set(back + timedelta(seconds=5), 10.0)


async def test_the_tick_runs_at_once_and_again_when_woken_though_the_clock_was_set_back():
    ticks: list[datetime] = []
    ticked = asyncio.Event()

    async def tick() -> None:
        ticks.append(datetime.now(UTC))
        ticked.set()

    async def nothing() -> None:
        return

    jobs = Jobs(tick, nothing, now=datetime.now(UTC))
    jobs.start()
    await asyncio.wait_for(ticked.wait(), 5)
    ticked.clear()
    # as after a clock set back: the next run seems to lie a day ahead
    jobs.wake(datetime.now(UTC) + timedelta(days=1))
    jobs.wake(datetime.now(UTC))
    await asyncio.wait_for(ticked.wait(), 5)
    jobs.stop()
    assert len(ticks) >= 2


async def test_there_is_one_job_for_the_clock_and_one_for_the_broom():
    async def nothing() -> None:
        return

    jobs = Jobs(nothing, nothing, now=START)
    assert [job.id for job in jobs._scheduler.get_jobs()] == ["tick", "sweep"]


async def test_the_sweeping_and_the_copying_do_not_start_together_also_after_the_clock_was_set():
    async def nothing() -> None:
        return

    jobs = Jobs(nothing, nothing, nothing, now=START)
    jobs._scheduler.start(paused=True)
    for start in (START, START - timedelta(days=1)):
        jobs.wake(start)
        first = {job.id: job.next_run_time - start for job in jobs._scheduler.get_jobs()}
        assert first["tick"] == first["keep"] == timedelta(0)
        assert first["sweep"] >= timedelta(minutes=1)
    jobs.stop()


def test_what_was_handled_long_ago_is_swept_out_and_what_waits_stays():
    store = Store.open("sqlite://")
    with store.begin() as work:
        work.inbox.put("telegram", 1, chat="7", payload={}, at=START)
        work.inbox.put("telegram", 2, chat="7", payload={}, at=START)
        work.inbox.done(work.inbox.waiting(10)[0].id, at=START)
    assert sweep(store, START + KEPT_FOR - timedelta(days=1)) == 0
    assert sweep(store, START + KEPT_FOR + timedelta(days=1)) == 1
    with store.look() as work:
        assert len(work.inbox.waiting(10)) == 1
    store.close()
