"""Makes the rounds that are due in a store, in a process of its own.

python -m tests.bench.large_rounds URL MOMENT
"""

from __future__ import annotations

import sys
from datetime import datetime

from bot.clock import Clock
from bot.conversation import Conversation
from bot.telegram.post import Post
from storage import Store


def main(url: str, moment: str) -> None:
    """One tick."""
    store = Store.open(url)
    clock = Clock(store, Conversation(), Post())
    print("ready", flush=True)
    clock.tick(datetime.fromisoformat(moment))
    store.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
