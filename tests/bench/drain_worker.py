"""One worker of the drain measurement: says that it is ready, then drains the inbox at each word.

    python -m tests.bench.drain_worker URL

Prints how many updates it handled, each time.
"""

from __future__ import annotations

import sys
from datetime import UTC

from bot.clock import Clock
from bot.conversation import Conversation
from bot.conversation.model import Incoming
from bot.telegram.admit import Door
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from storage import Store
from tests.bench.many import ANIMALS, meal
from tests.bench.messages import NOW

_AT = NOW.astimezone(UTC)


class _NotKeptError(Exception):
    """Takes back what the warming up has stored."""


def main(url: str) -> None:
    """Drains until nothing waits, as often as a line comes in."""
    store, talks = Store.open(url), Conversation()
    me, plans = Me(id=1, username="bench_bot"), Clock(store, Conversation(), Post())
    worker = Worker(store, me=me, door=Door(()), talks=talks, plans=plans, now=lambda: _AT)
    _warm_up(store, talks)
    print("ready", flush=True)
    while sys.stdin.readline():
        handled = 0
        while rows := worker.waiting():
            handled += sum(bool(worker.handle(row)) for row in rows)
        print(handled, flush=True)
    store.close()


def _warm_up(store: Store, talks: Conversation) -> None:
    """So that what is imported and compiled late is there before the time runs."""
    try:
        with store.begin() as work:
            keeper = work.keepers.active(limit=1)[0]
            for number in range(2 * ANIMALS):
                talks.respond(work, keeper, "7", Incoming(sent_at=_AT, text=meal(number)))
            raise _NotKeptError
    except _NotKeptError:
        return


if __name__ == "__main__":
    main(sys.argv[1])
