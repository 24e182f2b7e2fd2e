"""What the rounds of many keepers cost who are all due in the same minute, and one who writes meanwhile.

The one who writes asks for their own round: where that comes before the clock gets to them, it is told in the
answer and not once more. What is counted are the rounds that were opened.
"""

from __future__ import annotations

import itertools
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, timedelta
from pathlib import Path
from threading import Thread

from bot.clock import Clock
from bot.conversation import Conversation
from bot.telegram.admit import Door
from bot.telegram.poller import store_updates
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from storage import Store
from tests.bench.many import FIRST_CHAT, put_in, update
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
        writes = _writer(store, clock, FIRST_CHAT + _KEEPERS - 1)
        ticking = Thread(target=lambda: clock.tick(_AT + timedelta(seconds=5)))
        began = time.perf_counter()
        ticking.start()
        while ticking.is_alive():
            answers.append(writes())
            time.sleep(0.5)
        taken = time.perf_counter() - began
        with store.look() as work:
            opened = sum(work.rounds.of_day(keeper, _AT.date()) is not None for keeper in keepers)
        store.close()
    yield Line(
        what=f"rounds of {_KEEPERS:,} keepers with {_ANIMALS} animals each",
        figure=shown(taken),
        beside=f"{opened:,} rounds opened",
        limit=f"<= {_LIMIT_S:.0f} s",
        kept=taken <= _LIMIT_S and opened == _KEEPERS,
    )
    yield Line(
        what="  a keeper who writes meanwhile is answered in",
        figure=shown(statistics.median(answers)),
        beside=f"slowest {shown(max(answers))}",
        limit=f"<= {_ANSWER_LIMIT_S:.0f} s",
        kept=max(answers) <= _ANSWER_LIMIT_S,
    )


def _writer(store: Store, clock: Clock, chat: int) -> Callable[[], float]:
    """What writes one message and tells the seconds from Telegram's update to its reply in the outbox."""
    me, numbers = Me(id=1, username="shelf_bot"), itertools.count(1)
    worker = Worker(store, me=me, door=Door(()), talks=Conversation(), plans=clock, now=lambda: _AT)
    worker.get_ready()

    def write() -> float:
        said = update(next(numbers), chat, "what is due today?", _AT)
        began = time.perf_counter()
        store_updates(store, [said], _AT)
        for row in worker.waiting():
            worker.handle(row)
        return time.perf_counter() - began

    return write
