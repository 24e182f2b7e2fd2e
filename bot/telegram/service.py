"""``serve``: everything wired together, run until it is stopped. Nothing is decided here."""

from __future__ import annotations

import asyncio
import gc
import logging
import signal
import time
from collections.abc import Callable, Coroutine, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from functools import partial
from typing import Any, Final, Protocol

from telegram.error import RetryAfter, TelegramError

from bot import conversation
from bot.settings import Settings, address_of
from bot.telegram import menu
from bot.telegram.admit import Door
from bot.telegram.album import AlbumKeeper
from bot.telegram.api import BotApi
from bot.telegram.caretaker import Caretaker, Keeps, language_of
from bot.telegram.deep_link import link, payload_for_invite
from bot.telegram.intake import Intake
from bot.telegram.jobs import ClockWatch, Jobs, sweep
from bot.telegram.outage import LastPoll
from bot.telegram.pauses import Pauses
from bot.telegram.poller import TokenRefusedError, store_updates
from bot.telegram.post import Post
from bot.telegram.redaction import kind_of, log_safely
from bot.telegram.sender import Sender
from bot.telegram.threads import Threads
from bot.telegram.wellbeing import Wellbeing
from bot.telegram.worker import Plans, Worker
from bot.watch import Figures, WatchPage
from storage import Store
from storage.bell import INBOX, rings
from storage.errors import StoreError
from storage.rights import SoleRight

_log = logging.getLogger(__name__)

STOPPED, FAILED, TOKEN_REFUSED = 0, 1, 2
_LOOK_EVERY: Final = 5.0
_STUCK_AFTER: Final = 300.0
_TO_FINISH: Final = 7.0


class Ticks(Plans, Protocol):
    """The clock, as far as it is run beside the front end."""

    def tick(self, now: datetime) -> int:
        """Posts what is due. How much was posted."""

    def stop(self) -> None:
        """Makes a tick end soon."""


MakesClock = Callable[[Store, Any, Post, Callable[[float], None]], Ticks]
MakesKeeping = Callable[[Store, Post], Keeps]


def serve(
    settings: Settings,
    store: Store,
    *,
    clock: MakesClock,
    keeping: MakesKeeping | None = None,
    talks: Callable[[], Any] | None = None,
) -> int:
    """Answers on Telegram until SIGTERM or SIGINT. Gives the exit status.

    0: stopped; 2: Telegram does not know the token; 1: something that a new start may mend.
    ``clock`` makes the clock from the store, a conversation and the way out; ``keeping`` makes what
    looks after copies and the disk; ``talks`` makes a conversation, where it is to be another than the
    usual one.
    """
    log_safely(token=settings.token.get_secret_value(), level=settings.log_level)
    try:
        return asyncio.run(_Service(settings, store, clock, keeping, talks).run())
    except TokenRefusedError:
        _log.critical("Telegram does not know the token; put the right one into BURROWBELL_TOKEN")
        return TOKEN_REFUSED
    except Exception as slip:
        _log.critical("stopped by a fault", exc_info=slip)
        return FAILED


def _now() -> datetime:
    return datetime.now(UTC)


class _Service:
    """The parts, and the loops that run them."""

    def __init__(
        self,
        settings: Settings,
        store: Store,
        clock: MakesClock,
        keeping: MakesKeeping | None,
        talks: Callable[[], Any] | None,
    ) -> None:
        self._settings, self._store = settings, store
        self._post, self._threads, self._figures = Post(), Threads(), Figures()
        self._username = ""
        self._talks = talks or partial(
            conversation.Conversation, on_reading=self._figures.reading, link_of=self._link_of
        )
        # a conversation of its own: it is not made to be used from two threads at once
        self._clock = clock(store, self._talks(), self._post, self._figures.round_made)
        self._last_poll = LastPoll(store, self._post)
        self._arrived = asyncio.Event()
        self._api = BotApi(settings.token.get_secret_value(), settings.api_base_url)
        self._rights = {name: SoleRight(store, name) for name in ("sending", "polling", "photos")}
        self._sender = Sender(
            self._api,
            store,
            self._threads,
            now=_now,
            may_send=self._rights["sending"].held,
            figures=self._figures,
        )
        self._album = AlbumKeeper(
            self._api.fetch, store, self._threads, may_fetch=self._rights["photos"].held
        )
        self._caretaker = Caretaker(
            self._api,
            self._threads,
            keeping(store, self._post) if keeping else None,
            operator=settings.keepers[0],
            now=_now,
            language=lambda: language_of(store, settings.keepers[0]),
        )
        self._jobs = Jobs(self._tick, self._sweep, self._look_after, now=_now())
        self._intake = Intake(
            settings,
            self._api,
            self._keep,
            threads=self._threads,
            polls=self._rights["polling"],
            on_good=self._good,
        )
        self._wellbeing = Wellbeing(store, now=_now)
        self._figures.watch_queues(self._wellbeing.queue_ages)
        self._page = (
            WatchPage(address_of(settings.watch_listen), self._figures, self._wellbeing)
            if settings.watch_listen
            else None
        )

    async def run(self) -> int:
        """Runs until stopped, or until one of the loops ends with an error, which is raised."""
        stop = asyncio.Event()
        loop = asyncio.get_running_loop()
        loop.set_exception_handler(_log_stray)
        for number in (signal.SIGTERM, signal.SIGINT):
            loop.add_signal_handler(number, stop.set)
        if self._page is not None:
            self._page.start()
        async with self._api:
            running = asyncio.create_task(self._run_loops())
            stopping = asyncio.create_task(stop.wait())
            await asyncio.wait({running, stopping}, return_when=asyncio.FIRST_COMPLETED)
            stopping.cancel()
            await self._finish(running)
        if not running.cancelled() and (fault := running.exception()):
            raise _first(fault)
        _log.info("stopped")
        return STOPPED

    async def _run_loops(self) -> None:
        me = await self._intake.introduce()
        self._username = me.username
        worker = Worker(
            self._store,
            me=me,
            door=Door(self._settings.keepers),
            talks=self._talks(),
            plans=self._clock,
            now=_now,
            figures=self._figures,
        )
        _log.info("serving", extra={"bot": me.id})
        self._jobs.start()
        try:
            async with asyncio.TaskGroup() as loops:
                for each in self._loops(worker):
                    loops.create_task(each)
        finally:
            self._jobs.stop()

    def _loops(self, worker: Worker) -> Sequence[Coroutine[Any, Any, None]]:
        return (
            self._intake.run(),
            self._take_in(worker),
            self._hear_the_bell(),
            self._sender.run(),
            self._album.run(),
            self._watch(),
            self._offer_menu(),
        )

    async def _finish(self, running: asyncio.Task[None]) -> None:
        self._clock.stop()
        running.cancel()
        await asyncio.wait({running})
        try:
            async with asyncio.timeout(_TO_FINISH):
                await self._sender.finish()
        except TimeoutError:
            _log.warning("stopped before everything on its way had arrived; it will be sent again")
        await asyncio.gather(*(self._threads.run(right.release) for right in self._rights.values()))
        self._threads.close()
        if self._page is not None:
            self._page.stop()

    def _link_of(self, code: str) -> str:
        """What a keeper sends on to somebody who is to come in by that code."""
        return link(self._username, payload_for_invite(code))

    # --- the loops

    async def _offer_menu(self) -> None:
        try:
            await self._api("setMyCommands", {"commands": menu.for_telegram()})
        except (RetryAfter, TelegramError) as fault:
            _log.warning("the menu could not be set", extra={"why": kind_of(fault)})

    async def _keep(self, updates: Sequence[Any]) -> int | None:
        try:
            last = await self._threads.run(lambda: store_updates(self._store, updates, _now()))
        except StoreError as fault:
            await self._caretaker.unusable(str(fault))
            raise
        await self._caretaker.usable()  # it was written to; reading alone would not tell that it can be
        self._arrived.set()
        return last

    async def _hear_the_bell(self) -> None:
        """Hears at once what other processes put down; without a bell it is found a little later."""
        pauses = Pauses()
        while True:
            try:
                async for channel in rings(self._store.url):
                    pauses.reset()
                    if channel == INBOX:
                        self._arrived.set()
                    else:
                        self._sender.look_again()
            except OSError as fault:
                _log.warning("other processes cannot be heard", extra={"why": kind_of(fault)})
            await asyncio.sleep(pauses.grow())

    async def _good(self) -> None:
        self._wellbeing.heard()
        try:
            if await self._threads.run(lambda: self._last_poll.note(_now())):
                self._sender.look_again()
        except StoreError as fault:
            _log.error("the last poll cannot be noted", extra={"why": str(fault)})

    async def _take_in(self, worker: Worker) -> None:
        with suppress(StoreError):  # told of below, where it lasts
            await self._threads.run_aside(worker.get_ready)
        gc.freeze()  # the languages stay: to look through them for garbage took a tenth of a second
        pauses = Pauses()
        while True:
            self._arrived.clear()
            try:
                rows = await self._threads.run(worker.waiting)
                for row in rows:
                    self._sender.offer(await self._threads.run(partial(worker.handle, row)))
                if rows:
                    self._album.look_again()
            except StoreError as fault:
                _log.error("the store cannot be used", extra={"why": str(fault)})
                await self._caretaker.unusable(str(fault))
                await asyncio.sleep(pauses.grow())
                continue
            pauses.reset()
            if not rows:
                await self._something_arrives()

    async def _something_arrives(self) -> None:
        try:
            async with asyncio.timeout(_LOOK_EVERY):  # what another worker left behind rings no bell
                await self._arrived.wait()
        except TimeoutError:
            return

    async def _tick(self) -> None:
        try:
            if await self._threads.run(self._tick_once):
                self._sender.look_again()
        except StoreError as fault:
            _log.error("the clock cannot use the store", extra={"why": str(fault)})

    def _tick_once(self) -> int:
        with self._figures.timed("tick"):
            return self._clock.tick(_now())

    async def _sweep(self) -> None:
        try:
            await self._threads.run(lambda: sweep(self._store, _now()))
        except StoreError as fault:
            _log.error("what is done cannot be swept out", extra={"why": str(fault)})

    async def _look_after(self) -> None:
        if await self._caretaker.keep():
            self._sender.look_again()

    async def _watch(self) -> None:
        """Wakes the jobs when the clock was set, and ends everything when polling is stuck.

        A supervisor then starts it anew.
        """
        clock = ClockWatch(_now(), time.monotonic())
        while self._intake.silent_for() < self._settings.poll_timeout + _STUCK_AFTER:
            self._wellbeing.beat()
            await asyncio.sleep(_LOOK_EVERY)  # steady time, whatever the computer's clock does
            if clock.was_set(_now(), time.monotonic()):
                _log.warning("the computer's clock was set")
                self._jobs.wake(_now())
        raise RuntimeError("polling is stuck")


def _first(fault: BaseException) -> BaseException:
    """The error within a group of errors; a refused token before all others."""
    if not isinstance(fault, BaseExceptionGroup):
        return fault
    faults = [_first(inner) for inner in fault.exceptions]
    return next((inner for inner in faults if isinstance(inner, TokenRefusedError)), faults[0])


def _log_stray(_loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
    """What nobody waited for: told by its kind, since its own words may hold anything."""
    _log.error("a stray error", exc_info=context.get("exception"))
