"""Sends what stands in the outbox: at the pace that Telegram allows, at least once, in order within a chat.

Rules: who wrote is answered before anyone is nudged; a request is marked sent only after Telegram
took it; one chat that fails, is blocked or must wait leaves all others alone.
"""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any, Final

from telegram.error import TelegramError

from bot.conversation import passing
from bot.telegram import words
from bot.telegram.admit import FRONT_END
from bot.telegram.api import BotApi
from bot.telegram.floods import of_all_chats
from bot.telegram.outgoing import in_place_of_edit, is_overtaken
from bot.telegram.pace import Pace
from bot.telegram.pauses import Pauses
from bot.telegram.redaction import kind_of
from bot.telegram.threads import Threads
from bot.telegram.verdict import ANSWER_LOST, Then, Verdict, verdict
from bot.watch import Figures
from storage import Store
from storage.errors import StoreError
from storage.records import Outgoing

_log = logging.getLogger(__name__)

_AT_ONCE: Final = 8
_FETCHED: Final = 500
_LOOK_AGAIN: Final = 1.0
_ANSWER: Final = "answerCallbackQuery"
_EDIT: Final = "editMessageText"
_OVERTAKEN: Final = Verdict(then=Then.GIVE_UP, why="a later edit waits")


class Sender:
    """One loop over what waits; several requests may be on their way at once, one for each chat."""

    def __init__(
        self,
        api: BotApi,
        store: Store,
        threads: Threads,
        *,
        now: Callable[[], datetime],
        may_send: Callable[[], bool] = lambda: True,
        figures: Figures | None = None,
        pace: Pace | None = None,
    ) -> None:
        """``may_send`` is asked in a thread, before the outbox is read: one process sends for all."""
        self._api, self._store, self._threads, self._now = api, store, threads, now
        self._may_send, self._sends = may_send, False
        self._figures, self._pace = figures or Figures(), pace or Pace()
        self._waiting: dict[int, Outgoing] = {}
        self._on_the_way: dict[asyncio.Task[None], Outgoing] = {}
        self._wake = asyncio.Event()
        self._pauses = Pauses()
        self._arrivals: dict[int, float] = {}
        self._looked = 0.0

    def offer(self, rows: Iterable[Outgoing]) -> None:
        """Takes what was just put into the outbox, so that it need not be looked for."""
        if self._sends:
            self._waiting.update((row.id, row) for row in rows)
            self._wake.set()

    def look_again(self) -> None:
        """Something was put into the outbox by others."""
        self._looked = 0.0
        self._wake.set()

    async def run(self) -> None:
        """Sends until cancelled; what is on its way then is waited for by :meth:`finish`."""
        while True:
            self._wake.clear()
            await self._look()
            pause = self._start_what_may_go()
            try:
                async with asyncio.timeout(pause):
                    await self._wake.wait()
            except TimeoutError:
                continue

    async def finish(self) -> None:
        """Waits for what is on its way."""
        if self._on_the_way:
            await asyncio.gather(*self._on_the_way, return_exceptions=True)

    async def _look(self) -> None:
        """Reads the outbox, but not more often than once a second unless asked to."""
        if time.monotonic() - self._looked < _LOOK_AGAIN:
            return
        self._looked = time.monotonic()
        try:
            rows = await self._threads.run(self._read)
        except StoreError as fault:
            _log.error("the outbox cannot be read", extra={"why": str(fault)})
            return
        if not self._sends:
            self._waiting.clear()
        # what arrived while the outbox was read stands there as it was before, and so does its chat
        arrived = {number for number, moment in self._arrivals.items() if moment >= self._looked}
        self._arrivals = {number: self._arrivals[number] for number in arrived}
        unsure = {row.chat for row in rows if row.id in arrived}
        on_the_way = {row.id for row in self._on_the_way.values()}
        for row in rows:
            if _is_ours(row) and row.chat not in unsure and row.id not in on_the_way:
                self._waiting[row.id] = row

    def _read(self) -> tuple[Outgoing, ...]:
        self._sends = self._may_send()
        if not self._sends:
            return ()
        with self._store.look() as work:
            return tuple(of_all_chats(work, self._now(), _FETCHED))

    # --- choosing

    def _start_what_may_go(self) -> float:
        """Starts all that the pace lets go now. Seconds until more may."""
        now = time.monotonic()
        pause = _LOOK_AGAIN
        for row in self._next_of_each_chat():
            late = is_overtaken(row, self._waiting.values())
            wait = 0.0 if late else self._wait_for(row, now)
            if wait > 0:
                pause = min(pause, wait)
                continue
            if len(self._on_the_way) >= _AT_ONCE:
                break
            if row.method != _ANSWER and not late:
                self._pace.take(int(row.chat), now)
            del self._waiting[row.id]
            task = asyncio.create_task(self._note(row, _OVERTAKEN) if late else self._send(row))
            self._on_the_way[task] = row
            task.add_done_callback(self._arrived)
        return pause

    def _next_of_each_chat(self) -> Iterator[Outgoing]:
        """What is next in each chat that has nothing on its way; answers first, nudges last."""
        busy = {row.chat for row in self._on_the_way.values() if row.method != _ANSWER}
        for row in sorted(self._waiting.values(), key=_rank):
            if row.method == _ANSWER:
                yield row
            elif row.chat not in busy:
                busy.add(row.chat)
                yield row

    def _wait_for(self, row: Outgoing, now: float) -> float:
        if row.method == _ANSWER:
            return self._pace.wait_for_any(now)
        return self._pace.wait_for(int(row.chat), now)

    def _arrived(self, task: asyncio.Task[None]) -> None:
        row = self._on_the_way.pop(task)
        self._arrivals[row.id] = time.monotonic()
        if not task.cancelled() and (slip := task.exception()):
            _log.error("a request could not be sent", exc_info=slip, extra={"outgoing": row.id})
        self._wake.set()

    # --- sending

    async def _send(self, row: Outgoing) -> None:
        try:
            result = await self._request(row)
        except TelegramError as error:
            met = verdict(error, tries=row.tries, lost=row.why == ANSWER_LOST, edits=row.method == _EDIT)
            self._figures.send_error(met.then.name.lower())
            if met.then is Then.ANEW and row.payload.get("or_nothing"):
                await self._note(row, replace(met, then=Then.GIVE_UP))
            elif met.then is Then.ANEW:
                await self._send(_instead(row))
            else:
                await self._note(row, met)
        except FileNotFoundError:
            _log.warning("a file is gone before it was sent", extra={"outgoing": row.id})
            await self._send(await self._threads.run(lambda: self._told_of_loss(row)))
        except Exception as slip:
            # a file that cannot be read, a row that is not as we write them: trying again would not help
            _log.exception("a request cannot be made", extra={"outgoing": row.id})
            await self._note(row, Verdict(then=Then.GIVE_UP, why=kind_of(slip)))
        else:
            self._pauses.reset()
            self._figures.sent(row.method)
            await self._mark_sent(row, result)

    async def _request(self, row: Outgoing) -> Any:
        params, file = dict(row.payload["params"]), row.payload.get("file")
        if row.method != _ANSWER:
            params["chat_id"] = int(row.chat)
        return await self._api(row.method, params, file=(file[0], file[1]) if file else None)

    async def _note(self, row: Outgoing, met: Verdict) -> None:
        """Does what the verdict says."""
        if met.then is Then.DONE:
            await self._mark_sent(row, None)
            return
        _log.warning("not sent", extra={"outgoing": row.id, "method": row.method, "why": met.why})
        if met.offline or met.hold:
            self._hold(row, met)
            self._waiting[row.id] = row
            return
        await self._keep_trying(lambda: self._note_in_store(row, met))
        if met.then is Then.LATER:
            # what stands behind it has been put off, or moved, as well: it is read anew when it is due
            self._waiting = {
                number: other for number, other in self._waiting.items() if other.chat != row.chat
            }
            self.look_again()

    def _hold(self, row: Outgoing, met: Verdict) -> None:
        now = time.monotonic()
        if met.offline:
            self._pace.hold_all(self._pauses.grow(), now)
        elif row.method == _ANSWER:
            self._pace.hold_all(met.seconds, now)
        else:
            self._pace.hold(int(row.chat), met.seconds, now)

    def _note_in_store(self, row: Outgoing, met: Verdict) -> None:
        now = self._now()
        with self._store.begin() as work:
            if met.moved_to is not None:
                work.keepers.readdress(FRONT_END, row.chat, str(met.moved_to))
            elif met.then is Then.LATER:
                work.outbox.later(row.id, now + timedelta(seconds=met.seconds), met.why)
            elif row.payload.get("traceless"):
                work.outbox.drop(row.id)
            else:
                work.outbox.failed(row.id, met.why, at=now)
            if met.blocked and row.keeper_id is not None and int(row.chat) > 0:
                work.keepers.pause(row.keeper_id)

    async def _mark_sent(self, row: Outgoing, result: Any) -> None:
        number = result.get("message_id") if isinstance(result, dict) else None
        reference = None if number is None else str(number)
        await self._keep_trying(lambda: self._mark_in_store(row, reference))
        if file := row.payload.get("file"):
            passing.drop(Path(file[1]))

    def _mark_in_store(self, row: Outgoing, reference: str | None) -> None:
        with self._store.begin() as work:
            if row.payload.get("traceless"):
                work.outbox.drop(row.id)
                return
            work.outbox.sent(row.id, message_ref=reference, at=self._now())
            prompt = row.payload.get("prompt")
            if prompt is not None and reference is not None:
                work.prompts.shown_as(prompt, reference)

    def _told_of_loss(self, row: Outgoing) -> Outgoing:
        """A line in the keeper's language, in place of a file that this process does not find."""
        with self._store.look() as work:
            keeper = work.keepers.get(row.keeper_id) if row.keeper_id is not None else None
        with words.spoken_to(keeper):
            text = words.file_lost()
        payload = {key: value for key, value in row.payload.items() if key != "file"}
        return replace(row, method="sendMessage", payload=payload | {"params": {"text": text}})

    async def _keep_trying(self, step: Callable[[], None]) -> None:
        """A store that cannot be written to just now must not make a message go out twice."""
        pauses = Pauses()
        while True:
            try:
                await self._threads.run(step)
            except StoreError as fault:
                _log.error("the outbox cannot be written to", extra={"why": str(fault)})
                await asyncio.sleep(pauses.grow())
            else:
                return


def _is_ours(row: Outgoing) -> bool:
    return row.chat.removeprefix("-").isdigit()


def _rank(row: Outgoing) -> tuple[int, int]:
    if row.method == _ANSWER:
        return 0, row.id
    return (2 if row.payload.get("nudge") else 1), row.id


def _instead(row: Outgoing) -> Outgoing:
    """A new message in place of an edit that cannot be made."""
    payload = dict(row.payload) | {"params": in_place_of_edit(dict(row.payload["params"]))}
    return replace(row, method="sendMessage", payload=payload)
