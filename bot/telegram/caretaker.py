"""Looks after the store while the bot serves, and tells the one who runs the bot when it cannot be used.

That is told past the outbox, which lies in the store itself.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Final, Protocol

from telegram.error import TelegramError

from bot.conversation.texts import say
from bot.telegram.admit import FRONT_END
from bot.telegram.api import BotApi
from bot.telegram.redaction import kind_of
from bot.telegram.threads import Threads
from bot.terms.language import LANGUAGES, speaking
from storage import Store
from storage.errors import StoreError

_log = logging.getLogger(__name__)

#: Another program's long write, or a server that starts anew, is nobody's worry for so long.
_WORTH_TELLING: Final = timedelta(minutes=1)


def language_of(store: Store, operator: int) -> str:
    """The language of the keeper in a chat; the first where nobody is. Raises ``StoreError``."""
    with store.look() as work:
        keeper = work.keepers.by_contact(FRONT_END, f"{operator}")
    return keeper.settings.language if keeper is not None else LANGUAGES[0]


class Keeps(Protocol):
    """Copies of the store, and the room on its disk."""

    def run(self, now: datetime) -> int:
        """Does what is to be done by now; how many messages were posted. Blocking, maybe for long."""


class Caretaker:
    """Told from the loop. ``operator`` is the chat of the one who runs the bot.

    ``language`` looks their language up in the store; the last one known is spoken while that cannot be used.
    """

    def __init__(
        self,
        api: BotApi,
        threads: Threads,
        keeps: Keeps | None,
        *,
        operator: int,
        now: Callable[[], datetime],
        language: Callable[[], str] = lambda: LANGUAGES[0],
    ) -> None:
        self._api, self._threads, self._keeps = api, threads, keeps
        self._operator, self._now = operator, now
        self._look_up, self._language = language, LANGUAGES[0]
        self._since: datetime | None = None
        self._told = False

    async def keep(self) -> bool:
        """Makes copies and looks at the disk. Whether something was posted."""
        keeps = self._keeps
        try:
            self._language = await self._threads.run_aside(self._look_up)
            if keeps is None:
                return False
            return bool(await self._threads.run_aside(lambda: keeps.run(self._now())))
        except (StoreError, OSError) as fault:
            why = str(fault) if isinstance(fault, StoreError) else kind_of(fault)
            _log.error("the store could not be looked after", extra={"why": why})
            return False

    async def unusable(self, why: str) -> None:
        """The store could not be used, for that reason; told once it has been so for a while."""
        now = self._now()
        self._since = self._since or now
        if not self._told and now - self._since >= _WORTH_TELLING:
            with speaking(self._language):
                self._told = await self._say(say("keeping.unusable", why=why))

    async def usable(self) -> None:
        """The store could be used."""
        told, self._since, self._told = self._told, None, False
        if told:
            with speaking(self._language):
                await self._say(say("keeping.usable"))

    async def _say(self, text: str) -> bool:
        try:
            await self._api("sendMessage", {"chat_id": self._operator, "text": text})
        except TelegramError as fault:
            _log.warning("that could not be told", extra={"why": kind_of(fault)})
            return False
        return True
