"""One round in a process that has done nothing before, from a store just opened; prints the seconds."""

from __future__ import annotations

import sys
from datetime import date

from bot.round.worklist import worklist
from storage import Store
from tests.bench.timing import seconds


def main(url: str, shelf_id: int, on: date) -> None:
    """Measures the first round alone: opening the store and importing are measured by ``bench start``."""
    store = Store.open(url)

    def first_round() -> None:
        with store.look() as work:
            worklist(work.shelves.facts(shelf_id), on)

    sys.stdout.write(f"{seconds(first_round)}\n")
    store.close()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), date.fromisoformat(sys.argv[3]))
