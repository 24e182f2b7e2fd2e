"""What is done again and again while the bot serves: the clock's tick, sweeping out, and safekeeping.

One job each, whatever the number of keepers and animals: who is due stands in the store. A tick that was
late is made up for once. The scheduler waits by the computer's clock, so when that clock is set, the jobs
are woken: otherwise a clock set back a day would silence the rounds for a day.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, timedelta
from typing import Final

from apscheduler.schedulers.asyncio import AsyncIOScheduler
from apscheduler.triggers.interval import IntervalTrigger

from storage import Store, Work

#: How often the clock asks the store who is due.
TICK: Final = timedelta(seconds=5)
#: What was handled or sent longer ago than this is swept out; Telegram remembers an update for a day.
KEPT_FOR: Final = timedelta(days=30)
#: Rounds, what was told of others, and what old buttons stood for are looked up for longer.
LOOKED_UP_FOR: Final = timedelta(days=180)
_SWEEP_EVERY: Final = timedelta(hours=6)
#: How often it is looked whether the day's copy is made and the disk has room.
_KEEP_EVERY: Final = timedelta(minutes=30)
#: The sweeping waits a little, so that it and the copy of a start do not fall together on a small machine.
_SWEEP_AFTER: Final = timedelta(minutes=5)
_AT_ONCE: Final = 1000
#: A difference between the two clocks that no leap second and no slow disk explains.
_JUMP: Final = timedelta(seconds=20)


Job = Callable[[], Awaitable[None]]


class Jobs:
    """The running jobs: ``tick``, ``sweep`` and ``keep``, each awaited one at a time."""

    def __init__(self, tick: Job, sweep: Job, keep: Job | None = None, *, now: datetime) -> None:
        self._scheduler = AsyncIOScheduler(
            timezone=UTC,
            job_defaults={"coalesce": True, "max_instances": 1, "misfire_grace_time": None},
        )
        jobs = [("tick", tick, TICK), ("sweep", sweep, _SWEEP_EVERY)]
        jobs += [("keep", keep, _KEEP_EVERY)] if keep else []
        for name, do, every in jobs:
            trigger = IntervalTrigger(seconds=int(every.total_seconds()), timezone=UTC)
            self._scheduler.add_job(do, trigger, id=name, next_run_time=_first(name, now))

    def start(self) -> None:
        """Runs the jobs on the running loop."""
        self._scheduler.start()

    def stop(self) -> None:
        """Starts nothing more."""
        if self._scheduler.running:
            self._scheduler.shutdown(wait=False)

    def wake(self, now: datetime) -> None:
        """Runs every job as after a start, and from now on by the clock as it stands."""
        for job in self._scheduler.get_jobs():
            job.modify(next_run_time=_first(job.id, now))


def _first(job: str, start: datetime) -> datetime:
    return start + _SWEEP_AFTER if job == "sweep" else start


class ClockWatch:
    """Notices that the computer's clock was set, by a steady clock that nobody sets."""

    def __init__(self, wall: datetime, steady: float) -> None:
        self._wall, self._steady = wall, steady

    def was_set(self, wall: datetime, steady: float) -> bool:
        """Whether the wall clock has moved otherwise than the steady one (seconds) since the last look."""
        expected = self._wall + timedelta(seconds=steady - self._steady)
        self._wall, self._steady = wall, steady
        return abs(wall - expected) > _JUMP


def sweep(store: Store, now: datetime) -> int:
    """Drops what was handled and sent long ago, in small transactions; gives how much."""
    swept = 0
    while True:
        with store.begin() as work:
            now_swept = _sweep_rows(work, now)
        swept += now_swept
        if now_swept < _AT_ONCE:
            return swept + _sweep_photos(store, now)


def _sweep_rows(work: Work, now: datetime) -> int:
    posted, looked_up = now - KEPT_FOR, now - LOOKED_UP_FOR
    return (
        work.inbox.sweep(posted, limit=_AT_ONCE)
        + work.outbox.sweep(posted, limit=_AT_ONCE)
        + work.prompts.sweep(looked_up, limit=_AT_ONCE)
        + work.news.sweep(looked_up, limit=_AT_ONCE)
        + work.rounds.sweep(looked_up.date(), limit=_AT_ONCE)
    )


def _sweep_photos(store: Store, now: datetime) -> int:
    """Deletes photo files that no row knows: those of somebody who was erased while the power went out."""
    if store.album is None:
        return 0
    with store.look() as work:
        return store.album.sweep(work.photos.paths(), now.timestamp())
