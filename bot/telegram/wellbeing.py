"""How the service is, for its watch page: alive while its loop beats, ready while it hears and stores."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final

from storage import Store
from storage.errors import StoreError

#: The loop beats every few seconds; a process whose loop stands still for so long is to be started anew.
_BEAT_WITHIN: Final = 60.0


class Wellbeing:
    """Asked from the watch page's thread; told from the loop."""

    def __init__(self, store: Store, *, now: Callable[[], datetime]) -> None:
        self._store, self._now = store, now
        self._beat = time.monotonic()
        self._heard = False

    def beat(self) -> None:
        """The loop runs."""
        self._beat = time.monotonic()

    def heard(self) -> None:
        """Telegram was heard."""
        self._heard = True

    def ill(self) -> str | None:
        """Why the process should be started anew; ``None`` while it is well."""
        still = time.monotonic() - self._beat
        return f"the loop has stood still for {still:.0f} s" if still > _BEAT_WITHIN else None

    def unready(self) -> str | None:
        """Why it cannot serve just now; ``None`` while it can."""
        if not self._heard:
            return "Telegram has not been heard yet"
        try:
            self.queue_ages()
        except StoreError as fault:
            return str(fault)
        return self.ill()

    def queue_ages(self) -> Mapping[str, float]:
        """Seconds that the oldest has waited in each queue; 0 where nothing does."""
        now = self._now()
        with self._store.look() as work:
            oldest = {"inbox": work.inbox.oldest(), "outbox": work.outbox.oldest(now)}
        return {queue: max(0.0, (now - at).total_seconds()) if at else 0.0 for queue, at in oldest.items()}
