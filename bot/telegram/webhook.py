"""Takes updates that Telegram delivers: each is committed to the inbox, then Telegram is told that it came.

Rules: only who knows the secret token is heard (Bot API, ``setWebhook``); what cannot be stored is answered
with an error, so that Telegram brings it again; what is no update is refused and told in the log.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import logging
from collections.abc import Awaitable, Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

from storage.errors import StoreUnavailableError

if TYPE_CHECKING:
    from aiohttp import web

_log = logging.getLogger(__name__)

PATH: Final = "/telegram"
_SECRET_HEADER: Final = "X-Telegram-Bot-Api-Secret-Token"
#: An update is a few kilobytes; Telegram's longest text has 4,096 letters.
_LARGEST: Final = 1024 * 1024
_OK, _BAD, _STRANGER, _BUSY = 200, 400, 401, 503

Keep = Callable[[Sequence[Any]], Awaitable[int | None]]


def secret_from(token: str) -> str:
    """The secret that Telegram sends with each update: always the same for a token, and not the token.

    1 to 256 of ``A-Z a-z 0-9 _ -`` (Bot API, ``setWebhook``).
    """
    return hmac.new(token.encode(), b"burrowbell webhook", hashlib.sha256).hexdigest()


class Webhook:
    """Listens from ``start`` to ``stop``. ``keep`` commits updates and gives the highest number of them."""

    def __init__(self, address: tuple[str, int], *, secret: str, keep: Keep) -> None:
        self._address, self._secret, self._keep = address, secret.encode(), keep
        self._runner: web.AppRunner | None = None

    @property
    def port(self) -> int | None:
        """The port it listens on; ``None`` while it does not."""
        return int(self._runner.addresses[0][1]) if self._runner and self._runner.addresses else None

    async def start(self) -> None:
        """Listens. Raises ``OSError`` where the address is taken."""
        from aiohttp import web  # noqa: PLC0415  only where updates are delivered

        app = web.Application(client_max_size=_LARGEST)
        app.router.add_post(PATH, self._delivered)
        self._runner = web.AppRunner(app, access_log=None)
        await self._runner.setup()
        await web.TCPSite(self._runner, *self._address).start()

    async def stop(self) -> None:
        """Listens no more; what has begun to come in is stored."""
        if self._runner is not None:
            await self._runner.cleanup()

    async def _delivered(self, request: web.Request) -> web.Response:
        from aiohttp import web  # noqa: PLC0415

        return web.Response(status=await self._take(request))

    async def _take(self, request: web.Request) -> int:
        known = request.headers.get(_SECRET_HEADER, "").encode(errors="replace")
        if not hmac.compare_digest(known, self._secret):
            _log.warning("a delivery without the secret was turned away")
            return _STRANGER
        try:
            update = json.loads(await request.read())
        except ValueError:
            _log.warning("a delivery was no JSON")
            return _BAD
        try:
            kept = await self._keep([update])
        except StoreUnavailableError as fault:
            _log.error("an update cannot be stored", extra={"why": str(fault)})
            return _BUSY
        return _BAD if kept is None else _OK
