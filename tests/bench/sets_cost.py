"""Rounds of many keepers as the program makes them, beside one pass over the same rows, as N grows tenfold.

The one pass is the least that any way of doing it must do: it reads who is due with all their animals'
states in one query, and writes one outbox row for each keeper in one transaction. It applies no rule of the
round and words nothing, so that the ratio says what rules, wording and a transaction for each keeper cost.
"""

from __future__ import annotations

import json
import sqlite3
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, timedelta
from itertools import groupby
from pathlib import Path

from bot.clock import Clock
from bot.conversation import Conversation
from bot.telegram.post import Post
from storage import Store
from tests.bench.many import put_in
from tests.bench.messages import NOW
from tests.bench.timing import Line, seconds, shown

_ANIMALS, _SIZES = 10, (100, 1_000)
#: Telegram's own pace for a bot, messages a second (Bots FAQ): rounds made faster than that only wait.
_TELEGRAM = 30
_AT = NOW.astimezone(UTC).replace(hour=7, minute=0)
_READ = """
    SELECT k.id, s.tag, s.name, t.facts FROM keeper k
    JOIN shelf h ON h.owner_id = k.id
    JOIN specimen s ON s.shelf_id = h.id
    JOIN state t ON t.specimen_id = s.id
    WHERE k.next_round_at <= ? AND k.paused = 0 ORDER BY k.next_round_at, k.id, s.position
"""
_WRITE = """
    INSERT INTO outbox (keeper_id, chat, method, payload, key, at, not_before, tries)
    VALUES (?, ?, 'sendMessage', ?, ?, ?, ?, 0)
"""


def lines() -> Iterator[Line]:
    """The tick and the one pass, for a hundred keepers and for a thousand."""
    each = []
    for keepers in _SIZES:
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "many.db"
            store = Store.open(f"sqlite:///{file}")
            put_in(store, keepers, _ANIMALS, days=30, at=_AT)
            floor = _one_pass(file, keepers)
            clock = Clock(store, Conversation(), Post())
            clock.tick(_AT - timedelta(hours=1))
            taken = seconds(lambda made=clock: made.tick(_AT + timedelta(seconds=5)))
            with store.look() as work:
                queued = len(work.outbox.waiting(_AT + timedelta(days=1), 2 * keepers))
            store.close()
        assert queued >= keepers, (queued, keepers)
        each.append(taken / keepers)
        yield Line(
            what=f"rounds of {keepers:,} keepers with {_ANIMALS} animals each",
            figure=shown(taken),
            beside=f"one pass, no rules and no words {shown(floor)}",
            ratio=taken / floor,
        )
    pace = 1 / each[-1]
    yield Line(
        what="  a second",
        figure=f"{pace:.0f}",
        beside=f"Telegram takes {_TELEGRAM}",
        ratio=pace / _TELEGRAM,
        limit=f">= {_TELEGRAM}",
        kept=pace >= _TELEGRAM,
    )
    growth = each[-1] / each[0]
    yield Line(
        what="  a round among ten times as many keepers",
        figure=shown(each[-1]),
        beside=f"among a tenth {shown(each[0])}",
        ratio=growth,
        limit="<= 1.5",
        kept=growth <= 1.5,
    )


def _one_pass(file: Path, keepers: int) -> float:
    """Seconds of the one pass, whose writes are taken back."""
    database = sqlite3.connect(file, isolation_level=None)
    moment = f"{_AT:%Y-%m-%d %H:%M:%S.%f}"
    began = time.perf_counter()
    database.execute("BEGIN IMMEDIATE")
    rows = database.execute(_READ, (moment,)).fetchall()
    made = [
        (
            number,
            "1",
            json.dumps({"text": ", ".join(row[1] for row in animals)}),
            f"one:{number}",
            moment,
            moment,
        )
        for number, animals in groupby(rows, key=lambda row: row[0])
    ]
    database.executemany(_WRITE, made)
    taken = time.perf_counter() - began
    database.execute("ROLLBACK")
    database.close()
    assert len(made) == keepers
    return taken
