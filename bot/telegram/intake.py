"""How updates come in: fetched by this process, delivered to it, or taken in by others."""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Awaitable, Callable, Sequence
from typing import Any, Final

from telegram.error import EndPointNotFound, InvalidToken, RetryAfter, TelegramError

from bot.settings import Settings, address_of
from bot.telegram.api import BotApi
from bot.telegram.pauses import Pauses
from bot.telegram.poller import Poller, TokenRefusedError, seconds_of
from bot.telegram.redaction import kind_of
from bot.telegram.threads import Threads
from bot.telegram.translate import ALLOWED_UPDATES, Me
from bot.telegram.webhook import PATH, Webhook, secret_from
from storage.rights import SoleRight

_log = logging.getLogger(__name__)

Keep = Callable[[Sequence[Any]], Awaitable[int | None]]

#: How many deliveries Telegram may have on the way at once (Bot API, ``setWebhook``: 1 to 100, usually 40).
_DELIVERIES: Final = 40


class Intake:
    """One way in, by the settings. ``keep`` commits updates; ``on_good`` is told that Telegram was heard."""

    def __init__(
        self,
        settings: Settings,
        api: BotApi,
        keep: Keep,
        *,
        threads: Threads,
        polls: SoleRight,
        on_good: Callable[[], Awaitable[None]],
    ) -> None:
        self._settings, self._api, self._keep = settings, api, keep
        self._threads, self._polls, self._on_good = threads, polls, on_good
        self._poller = Poller(
            api, keep, timeout=settings.poll_timeout, may_poll=self._may_poll, on_good=on_good
        )

    async def introduce(self) -> Me:
        """Who the bot is; waits for the network if it has to. Raises :class:`TokenRefusedError`."""
        me: Me = await self._asked_until_answered(self._api.me)
        return me

    async def run(self) -> None:
        """Takes updates in until cancelled."""
        if self._settings.receives == "poll":
            # with a webhook set no update could be fetched; what waits is kept in any case
            await self._asked_until_answered(
                lambda: self._api("deleteWebhook", {"drop_pending_updates": False})
            )
            await self._poller.run()
        elif self._settings.receives == "webhook":
            await self._be_delivered_to()

    def silent_for(self) -> float:
        """Seconds since polling last came back; 0 where this process does not poll."""
        return time.monotonic() - self._poller.last_try if self._settings.receives == "poll" else 0.0

    async def _may_poll(self) -> bool:
        return await self._threads.run(self._polls.held)

    async def _be_delivered_to(self) -> None:
        secret = secret_from(self._settings.token.get_secret_value())
        webhook = Webhook(address_of(self._settings.webhook_listen), secret=secret, keep=self._delivered)
        await webhook.start()
        try:
            await self._asked_until_answered(
                lambda: self._api(
                    "setWebhook",
                    {
                        "url": self._settings.webhook_url + PATH,
                        "secret_token": secret,
                        "allowed_updates": list(ALLOWED_UPDATES),
                        "max_connections": _DELIVERIES,
                        "drop_pending_updates": False,
                    },
                )
            )
            _log.info("updates are delivered", extra={"port": webhook.port})
            await asyncio.get_running_loop().create_future()  # until cancelled
        finally:
            await webhook.stop()

    async def _delivered(self, updates: Sequence[Any]) -> int | None:
        last = await self._keep(updates)
        await self._on_good()
        return last

    async def _asked_until_answered(self, ask: Callable[[], Awaitable[Any]]) -> Any:
        pauses = Pauses()
        while True:
            try:
                return await ask()
            except (InvalidToken, EndPointNotFound) as refused:
                raise TokenRefusedError from refused
            except RetryAfter as told:
                pause = seconds_of(told.retry_after)
            except TelegramError as fault:
                pause = pauses.grow()
                _log.warning("Telegram is out of reach", extra={"why": kind_of(fault), "pause_s": pause})
            await asyncio.sleep(pause)
