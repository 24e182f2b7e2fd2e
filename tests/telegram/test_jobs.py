"""The few jobs that serving has, whatever the number of keepers."""

import asyncio
from datetime import UTC, datetime, timedelta

import pytest

from bot.telegram.jobs import KEPT_FOR, LOOKED_UP_FOR, ClockWatch, Jobs, sweep
from storage import Store
from tests.storage import postgres
from tests.storage.given import shelf_in

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
        for number in range(1, 4):
            work.inbox.put("telegram", number, chat="7", payload={}, at=START)
        work.inbox.put("telegram", 4, chat="8", payload={}, at=START, aside="too much")
        work.inbox.done(work.inbox.waiting(10)[0].id, at=START)
        work.inbox.set_aside(work.inbox.waiting(10)[0].id, "unreadable", at=START)
    assert sweep(store, START + KEPT_FOR - timedelta(days=1)) == 0
    assert sweep(store, START + KEPT_FOR + timedelta(days=1)) == 3
    with store.look() as work:
        assert len(work.inbox.waiting(10)) == 1
    store.close()


@pytest.fixture(params=["sqlite", "postgresql"])
def shelf(request, server):
    store = Store.open("sqlite://" if request.param == "sqlite" else server.cleared())
    yield shelf_in(store)
    store.close()


@pytest.fixture(scope="module")
def server():
    with postgres.server() as running:
        yield running


def test_what_old_buttons_stood_for_goes_but_not_what_is_open_or_of_which_change_a_message_tells(shelf):
    change = shelf.log()
    prompt = {"chat": "7", "actions": [{"do": "undo"}], "pending": {"words": "of an invented question"}}
    later = START + LOOKED_UP_FOR + timedelta(days=1)
    with shelf.store.begin() as work:
        asked = work.prompts.put(shelf.keeper.id, **prompt, change_id=None, at=START)
        told = work.prompts.put(shelf.keeper.id, **prompt, change_id=change, at=START)
        still_open = work.prompts.put(shelf.keeper.id, **prompt, change_id=None, at=START)
        elsewhere = work.prompts.put(shelf.keeper.id, **prompt | {"chat": "8"}, change_id=None, at=START)
        fresh = work.prompts.put(shelf.keeper.id, **prompt, change_id=change, at=later)
        work.prompts.shown_as(told, "55")
        work.dialogs.set(shelf.keeper.id, "7", {"open": still_open})
        work.dialogs.set(shelf.keeper.id, "8", {"passed": elsewhere})
    assert sweep(shelf.store, later - timedelta(days=2)) == 0
    assert sweep(shelf.store, later) == 3
    assert sweep(shelf.store, later) == 0
    with shelf.store.look() as work:
        assert (work.prompts.get(asked), work.prompts.get(elsewhere)) == (None, None)
        assert work.prompts.get(still_open).pending == prompt["pending"]
        assert len(work.prompts.get(fresh).actions) == 1
        emptied = work.prompts.by_message(shelf.keeper.id, "7", "55")
        assert (emptied.number, emptied.change_id) == (told, change)
        assert (emptied.actions, emptied.pending) == ((), None)


def test_rounds_and_told_news_of_long_ago_go_and_what_is_still_to_be_told_stays(shelf):
    change, me = shelf.log(), shelf.keeper.id
    later = START + LOOKED_UP_FOR + timedelta(days=2)
    with shelf.store.begin() as work:
        for day in (START, START + timedelta(days=1), later):
            work.rounds.open_(me, shelf.id, day.date(), due_at=day, tasks=[], at=day)
        work.rounds.close(work.rounds.of_day(me, START.date()).id, START)
        for _ in range(2):
            work.news.add([me], shelf.id, [change], at=START, due_at=START)
        work.news.told([work.news.waiting(me)[0].id], at=START)
    assert sweep(shelf.store, START + LOOKED_UP_FOR - timedelta(days=1)) == 0
    assert sweep(shelf.store, later) == 3
    with shelf.store.look() as work:
        assert work.rounds.of_day(me, START.date()) is None
        assert work.rounds.of_day(me, later.date()) is not None
        assert len(work.news.waiting(me)) == 1
