"""How fast one, two and four processes drain an inbox on one PostgreSQL, message to committed reply.

The server is a real one that waits for its disk. Workers that take part start at the same word; the time is
from that word until the last one finds nothing left. Runs of all counts take turns, so that all meet the
same noise.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC
from itertools import count

from storage import Store
from tests.bench.many import FIRST_CHAT, meal, put_in, update
from tests.bench.messages import NOW
from tests.bench.timing import Line, medians, shown
from tests.storage import postgres

_KEEPERS, _EACH, _ROUNDS, _COUNTS = 40, 5, 5, (1, 2, 4)
_WANTED = 1.7
_AT = NOW.astimezone(UTC)


def lines() -> Iterator[Line]:
    """One, two and four workers, each against one."""
    times: dict[int, list[float]] = defaultdict(list)
    with postgres.server(durable=True) as server:
        url = server.empty()
        store = Store.open(url)
        put_in(store, _KEEPERS, days=10, at=_AT)
        numbers = count(1)
        with _workers(url, max(_COUNTS)) as started:
            for _ in range(_ROUNDS):
                for workers in _COUNTS:
                    times[workers].append(_drain(store, started[:workers], numbers))
        store.close()
    messages = _KEEPERS * _EACH
    for workers, taken in times.items():
        ratio = medians(times[1]) / medians(taken)
        yield Line(
            what=f"drain {messages} messages, {workers} worker(s) on {os.cpu_count()} cores",
            figure=shown(medians(taken)),
            beside=f"{messages / medians(taken):.0f} a second",
            ratio=ratio,
            limit=f">= {_WANTED}" if workers == 2 else "",
            kept=ratio >= _WANTED if workers == 2 else None,
        )


@contextmanager
def _workers(url: str, many: int) -> Iterator[list[subprocess.Popen[str]]]:
    command = [sys.executable, "-m", "tests.bench.drain_worker", url]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    started = [subprocess.Popen(command, **pipes) for _ in range(many)]
    try:
        for process in started:
            assert process.stdout.readline() == "ready\n"
        yield started
    finally:
        for process in started:
            process.stdin.close()
            process.wait(20)


def _drain(store: Store, workers: list[subprocess.Popen[str]], numbers: Iterator[int]) -> float:
    """Seconds from the word until all is handled; every message must have been, and once."""
    with store.begin() as work:
        for _ in range(_EACH):
            for chat in range(FIRST_CHAT, FIRST_CHAT + _KEEPERS):
                number = next(numbers)
                made = update(number, chat, meal(number), _AT)
                work.inbox.put("telegram", number, chat=str(chat), payload=made, at=_AT)
    began = time.perf_counter()
    for process in workers:
        process.stdin.write("go\n")
        process.stdin.flush()
    handled = sum(int(process.stdout.readline()) for process in workers)
    taken = time.perf_counter() - began
    assert handled == _KEEPERS * _EACH, handled
    return taken
