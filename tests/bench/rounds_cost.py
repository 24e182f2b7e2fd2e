"""What the rounds of many keepers cost who are all due in the same minute, and one who writes meanwhile."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, timedelta
from pathlib import Path
from threading import Thread

from bot.clock import Clock
from bot.conversation import Conversation
from bot.conversation.model import Incoming
from bot.telegram.post import Post
from storage import Store
from tests.bench.many import put_in
from tests.bench.messages import NOW
from tests.bench.timing import Line, shown

_KEEPERS, _ANIMALS, _DAYS = 1000, 100, 12
_LIMIT_S, _ANSWER_LIMIT_S = 30.0, 1.0
_AT = NOW.astimezone(UTC).replace(hour=7, minute=0)


def lines() -> Iterator[Line]:
    """A tick in which everybody is due, while one keeper writes."""
    with tempfile.TemporaryDirectory() as folder:
        store = Store.open(f"sqlite:///{Path(folder) / 'many.db'}")
        keepers = put_in(store, _KEEPERS, _ANIMALS, days=_DAYS, at=_AT)
        clock, answers = Clock(store, Conversation(), Post()), list[float]()
        ticking = Thread(target=lambda: clock.tick(_AT + timedelta(seconds=5)))
        began = time.perf_counter()
        ticking.start()
        while ticking.is_alive():
            answers.append(_write(store, keepers[-1]))
            time.sleep(0.5)
        taken = time.perf_counter() - began
        with store.look() as work:
            queued = len(work.outbox.waiting(_AT + timedelta(days=1), 2 * _KEEPERS))
        store.close()
    yield Line(
        what=f"rounds of {_KEEPERS:,} keepers with {_ANIMALS} animals each",
        figure=shown(taken),
        beside=f"{queued:,} messages queued",
        limit=f"<= {_LIMIT_S:.0f} s",
        kept=taken <= _LIMIT_S and queued >= _KEEPERS,
    )
    yield Line(
        what="  a keeper who writes meanwhile is answered in",
        figure=shown(statistics.median(answers)),
        beside=f"slowest {shown(max(answers))}",
        limit=f"<= {_ANSWER_LIMIT_S:.0f} s",
        kept=max(answers) <= _ANSWER_LIMIT_S,
    )


def _write(store: Store, keeper_id: int) -> float:
    """How long one message takes from its words to its commit."""
    talk = Conversation()
    began = time.perf_counter()
    with store.begin() as work:
        talk.respond(work, work.keepers.get(keeper_id), "7", Incoming(sent_at=_AT, text="what is due today?"))
    return time.perf_counter() - began
