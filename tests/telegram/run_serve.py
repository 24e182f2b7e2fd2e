"""``serve`` with the small conversation, as a process of its own; it can be told to be killed at an instant.

    python -m tests.telegram.run_serve

Settings come from the environment as always. ``KILL_AT`` names a point (see :data:`POINTS`) and
``KILL_FLAG`` a file that is made just before the kill, so that the next start goes past it.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from contextlib import contextmanager
from pathlib import Path

from bot.clock import Clock
from bot.settings import load_settings
from bot.telegram import serve
from storage import Store
from tests.telegram.fake_talks import FakeTalks

POINTS = (
    "before an update is stored",
    "after an update is stored",
    "while it is handled",
    "before the commit of an entry",
    "after the commit of an entry",
    "before a reply is noted as sent",
    "after a reply is noted as sent",
)


def _die() -> None:
    Path(os.environ["KILL_FLAG"]).touch()
    os.kill(os.getpid(), signal.SIGKILL)


def _at(point: str) -> bool:
    return os.environ.get("KILL_AT") == point and not Path(os.environ["KILL_FLAG"]).exists()


class _Mortal:
    """A store whose process dies around the commit of a chosen kind of transaction."""

    _KINDS = (("inbox", "put", "an update is stored"), ("journal", "log", "the commit of an entry"))

    def __init__(self, store: Store) -> None:
        self._store = store

    def __getattr__(self, name: str):
        return getattr(self._store, name)

    @contextmanager
    def begin(self):
        done: set[str] = set()
        with self._store.begin() as work:
            for part, verb, what in (*self._KINDS, ("outbox", "sent", "a reply is noted as sent")):
                _watch(getattr(work, part), verb, lambda what=what: done.add(what))
            yield work
            for what in done:
                if _at(f"before {what}"):
                    _die()
        for what in done:
            if _at(f"after {what}"):
                _die()


def _watch(part: object, verb: str, note: Callable[[], None]) -> None:
    original = getattr(part, verb)

    def watched(*args, **kwargs):
        note()
        return original(*args, **kwargs)

    setattr(part, verb, watched)


class _MortalTalks(FakeTalks):
    def respond(self, work, keeper, chat, incoming):
        replies = super().respond(work, keeper, chat, incoming)
        if _at("while it is handled"):
            _die()
        return replies


def main() -> int:
    settings = load_settings()
    store = Store.open(settings.database_url)
    try:
        return serve(settings, _Mortal(store), clock=Clock, talks=_MortalTalks)
    finally:
        store.close()


if __name__ == "__main__":
    sys.exit(main())
