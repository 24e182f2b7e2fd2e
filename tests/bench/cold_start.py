"""One round, or all forecasts, in a process that has done nothing before; prints the seconds."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from bot.commands.group import SELDOM
from bot.husbandry.forecast import forecasts
from bot.round.worklist import worklist
from storage import Store
from storage.outlook_shelf import read_for_outlooks
from storage.work import Work
from tests.bench.timing import seconds


def _round(work: Work, shelf_id: int, on: date) -> None:
    worklist(work.shelves.facts(shelf_id), on)


def _forecasts(work: Work, shelf_id: int, on: date) -> None:
    forecasts(read_for_outlooks(work, shelf_id, on=on), on)


_WHAT: Final[Mapping[str, Callable[[Work, int, date], None]]] = MappingProxyType(
    {"round": _round, "forecasts": _forecasts}
)


def main(what: str, url: str, shelf_id: int, on: date) -> None:
    """Measures that alone: opening the store and importing are measured by ``bench start``."""
    gc.set_threshold(*SELDOM)  # as the program has it
    store = Store.open(url)

    def first() -> None:
        with store.look() as work:
            _WHAT[what](work, shelf_id, on)

    sys.stdout.write(f"{seconds(first)}\n")
    store.close()


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), date.fromisoformat(sys.argv[4]))
