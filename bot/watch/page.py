"""A small page for whoever watches over the bot: ``/metrics``, ``/healthz`` and ``/readyz``.

It listens on loopback unless told otherwise, in a thread of its own, and shows nothing of any keeper.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Final, Protocol

from bot.watch.figures import Figures

_log = logging.getLogger(__name__)

_PLAIN: Final = "text/plain; charset=utf-8"
_FIGURES: Final = "text/plain; version=0.0.4; charset=utf-8"
#: Seconds that one request may take, so that nobody holds a thread.
_PATIENCE: Final = 5.0


class Health(Protocol):
    """How the bot is, asked from the page's thread."""

    def ill(self) -> str | None:
        """Why the process should be started anew, in a few words; ``None`` while it is well."""

    def unready(self) -> str | None:
        """Why it cannot serve just now, in a few words; ``None`` while it can."""


class WatchPage:
    """The page, from :meth:`start` to :meth:`stop`."""

    def __init__(self, address: tuple[str, int], figures: Figures, health: Health) -> None:
        self._address, self._figures, self._health = address, figures, health
        self._server: ThreadingHTTPServer | None = None

    @property
    def port(self) -> int | None:
        """The port it listens on; ``None`` while it does not."""
        return None if self._server is None else int(self._server.server_address[1])

    def start(self) -> None:
        """Listens. A port that is taken is told in the log; the bot goes on without the page."""
        try:
            self._server = ThreadingHTTPServer(self._address, self._handler())
        except OSError as fault:
            where = "{}:{}".format(*self._address)
            _log.warning("the watch page cannot listen", extra={"where": where, "why": fault.strerror})
            return
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, name="watch", daemon=True).start()

    def stop(self) -> None:
        """Listens no more."""
        if self._server is not None:
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def _answer(self, path: str) -> tuple[HTTPStatus, str, bytes]:
        if path == "/metrics":
            return HTTPStatus.OK, _FIGURES, self._figures.text()
        checks: dict[str, Callable[[], str | None]] = {
            "/healthz": self._health.ill,
            "/readyz": self._health.unready,
        }
        if path not in checks:
            return HTTPStatus.NOT_FOUND, _PLAIN, b"/metrics, /healthz, /readyz\n"
        why = checks[path]()
        status = HTTPStatus.OK if why is None else HTTPStatus.SERVICE_UNAVAILABLE
        return status, _PLAIN, f"{why or 'ok'}\n".encode()

    def _handler(self) -> type[BaseHTTPRequestHandler]:
        page = self

        class Handler(BaseHTTPRequestHandler):
            timeout = _PATIENCE
            server_version, sys_version = "burrowbell", ""

            def do_GET(self) -> None:
                """One of the three paths."""
                try:
                    status, kind, body = page._answer(self.path.partition("?")[0])
                except Exception:
                    _log.exception("the watch page could not answer")
                    status, kind, body = HTTPStatus.INTERNAL_SERVER_ERROR, _PLAIN, b"see the log\n"
                self.send_response(status)
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(body)))
                self.send_header("Cache-Control", "no-store")
                self.end_headers()
                self.wfile.write(body)

            def log_message(self, *_args: object) -> None:
                """Who looks at the page is no news."""

        return Handler
