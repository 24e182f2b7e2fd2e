"""Fetches updates by long polling; each is committed to the inbox before the offset moves on.

Rules: an update is stored as it came, whatever it is, so that none is fetched for ever; lost
network is waited out with growing pauses; a refused token ends it; a poll that never returns is
given up.
"""

from __future__ import annotations

import asyncio
import json
import logging
import time
from collections.abc import Awaitable, Callable, Mapping, Sequence
from datetime import datetime
from typing import Any, Final, Protocol

from telegram.error import Conflict, EndPointNotFound, InvalidToken, RetryAfter, TelegramError

from bot.telegram.admit import FRONT_END
from bot.telegram.floods import WHY, floods, overflows, tell_of_flood
from bot.telegram.pauses import Pauses
from bot.telegram.redaction import kind_of
from bot.telegram.translate import ALLOWED_UPDATES, chat_of, writer_of
from storage import Store
from storage.errors import StoreUnavailableError

_log = logging.getLogger(__name__)

_SLACK: Final = 15.0
"""Seconds beyond the time asked for, after which a poll is given up."""
_ASK_AGAIN: Final = 1.0
_LARGEST_NUMBER: Final = 2**63 - 1


class TokenRefusedError(Exception):
    """Telegram does not know the token."""


class Asks(Protocol):
    """The Bot API, as far as polling needs it."""

    async def __call__(self, method: str, params: dict[str, Any], *, timeout: float) -> Any:
        """The result of a method, as JSON."""


class Poller:
    """One loop: fetch, store, move on."""

    def __init__(
        self,
        ask: Asks,
        keep: Callable[[Sequence[Any]], Awaitable[int | None]],
        *,
        timeout: int,
        may_poll: Callable[[], Awaitable[bool]],
        on_good: Callable[[], Awaitable[None]],
    ) -> None:
        """``may_poll`` is asked before each poll: of several processes one polls."""
        self._ask, self._keep, self._on_good, self._may_poll = ask, keep, on_good, may_poll
        self._timeout = timeout
        self._offset: int | None = None
        self._pauses = Pauses()
        self.last_try = time.monotonic()
        """When the last poll ended, well or not, by the steady clock."""

    async def run(self) -> None:
        """Polls until cancelled. Raises :class:`TokenRefusedError`."""
        while True:
            if not await self._may_poll():
                self.last_try = time.monotonic()
                await asyncio.sleep(_ASK_AGAIN)
                continue
            try:
                moved = await self._once()
            except (InvalidToken, EndPointNotFound) as refused:
                raise TokenRefusedError from refused
            except RetryAfter as told:
                wait = seconds_of(told.retry_after)
                self.last_try = time.monotonic() + wait
                await asyncio.sleep(wait)
            except (TelegramError, TimeoutError, StoreUnavailableError) as fault:
                await self._wait_out(fault)
            else:
                self.last_try = time.monotonic()
                if moved:
                    self._pauses.reset()
                else:
                    await asyncio.sleep(self._pauses.grow())

    async def _once(self) -> bool:
        """One poll. False where updates came that could not move the offset on."""
        params: dict[str, Any] = {"timeout": self._timeout, "allowed_updates": list(ALLOWED_UPDATES)}
        if self._offset is not None:
            params["offset"] = self._offset
        async with asyncio.timeout(self._timeout + _SLACK):
            updates = await self._ask("getUpdates", params, timeout=self._timeout + _SLACK / 2)
        if not isinstance(updates, list):
            return False
        last = await self._keep(updates) if updates else None
        if last is not None:
            self._offset = last + 1
        await self._on_good()
        return not updates or last is not None

    async def _wait_out(self, fault: Exception) -> None:
        self.last_try = time.monotonic()
        pause = self._pauses.grow()
        if isinstance(fault, Conflict):
            _log.error("another program polls with the same token; stop one of them")
        else:
            _log.warning("no updates", extra={"why": kind_of(fault), "pause_s": round(pause, 1)})
        await asyncio.sleep(pause)


def store_updates(store: Store, updates: Sequence[Any], at: datetime) -> int | None:
    """Commits updates to the inbox as they came; the highest number among them. Blocking."""
    last = None
    with store.begin() as work:
        for update in updates:
            number = update.get("update_id") if isinstance(update, Mapping) else None
            if type(number) is not int or not 0 <= number <= _LARGEST_NUMBER:
                _log.error("what came has no number of an update, and cannot be kept")
                continue
            chat = str(chat_of(update))
            flooded = floods(work, chat)
            last = number if last is None else max(last, number)
            if flooded and overflows(work, chat):
                tell_of_flood(work, chat, at)
                continue
            new = work.inbox.put(
                FRONT_END,
                number,
                chat=chat,
                payload=_plain(update),
                at=at,
                writer=writer_of(update),
                aside=WHY if flooded else None,
            )
            if flooded and new:
                tell_of_flood(work, chat, at)
    return last


def _plain(update: Mapping[str, Any]) -> dict[str, Any]:
    """The update as JSON that any store takes: numbers that are none become words."""
    plain: dict[str, Any] = json.loads(json.dumps(update), parse_constant=str)
    return plain


def seconds_of(value: Any) -> float:
    """A wait that Telegram asked for, which the library gives as a number or a timedelta."""
    return value.total_seconds() if hasattr(value, "total_seconds") else float(value)
