"""The Bot API, by the library's ``Bot``: methods by name, results as raw JSON."""

from __future__ import annotations

import os
import warnings
from pathlib import Path
from typing import Any, Final, Self

from telegram import Bot, InputFile
from telegram.request import HTTPXRequest
from telegram.warnings import PTBUserWarning

from bot.telegram.translate import Me

_IN_FLIGHT: Final = 8
_POOL_WAIT: Final = 10.0
_READ: Final = 20.0


class BotApi:
    """One bot's access. A method's result is the JSON that Telegram sent, whatever it holds."""

    def __init__(self, token: str, base_url: str) -> None:
        # waits as timedelta, as the library will have them by and by; it warns at each use otherwise
        os.environ.setdefault("PTB_TIMEDELTA", "true")
        # the library would rather parse the results itself; what it cannot parse must not be lost
        warnings.filterwarnings("ignore", category=PTBUserWarning, module="telegram")
        warnings.filterwarnings("ignore", category=PTBUserWarning, module="bot.telegram")
        polling = HTTPXRequest(connection_pool_size=1, pool_timeout=_POOL_WAIT)
        sending = HTTPXRequest(connection_pool_size=_IN_FLIGHT, pool_timeout=_POOL_WAIT, read_timeout=_READ)
        self._requests = (polling, sending)
        self._bot = Bot(
            token,
            base_url=f"{base_url}/bot",
            base_file_url=f"{base_url}/file/bot",
            request=sending,
            get_updates_request=polling,
        )

    async def __aenter__(self) -> Self:
        for request in self._requests:
            await request.initialize()
        return self

    async def __aexit__(self, *_exc: object) -> None:
        for request in self._requests:
            await request.shutdown()

    async def __call__(
        self,
        method: str,
        params: dict[str, Any] | None = None,
        *,
        timeout: float = _READ,
        file: tuple[str, str] | None = None,
    ) -> Any:
        """The result of a method. ``file`` names a parameter and the path of what to upload for it.

        Raises ``telegram.error.TelegramError`` as the library does, ``OSError`` for a file that
        cannot be read.
        """
        given = dict(params or {})
        if file:
            name, path = file[0], Path(file[1])
            given[name] = InputFile(path.read_bytes(), filename=path.name)
        return await self._bot.do_api_request(method, given, read_timeout=timeout)

    async def fetch(self, reference: str, most: int) -> bytes | None:
        """The bytes of a file that somebody sent; ``None`` where it has more than ``most``.

        Raises ``telegram.error.TelegramError`` as the library does.
        """
        found = await self._bot.get_file(reference, read_timeout=_READ)
        if (found.file_size or 0) > most:
            return None
        content = bytes(await found.download_as_bytearray(read_timeout=_READ))
        return content if len(content) <= most else None

    async def me(self) -> Me:
        """The bot's own account."""
        found = await self("getMe")
        return Me(id=found["id"], username=found["username"])
