"""A worker that can be killed at any instant: takes in what waits and makes the rounds, in its own process.

Days go by fast: the hour is worked out from the real time, so that rounds keep falling due.
"""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta

from bot.clock import Clock
from bot.conversation.model import Reply
from bot.telegram.admit import Door
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from bot.terms import Entry, Kind
from storage import Store
from storage.errors import StoreUnavailableError

START = datetime(2026, 5, 14, 12, 0, tzinfo=UTC)
#: Hours of the keepers' time that go by in a second.
HOURS_A_SECOND = 3


class SmallTalk:
    """Each message is a refusal of the one animal, with the message as its note; each day has a round."""

    def respond(self, work, keeper, chat, incoming):
        origin = f"{chat}:{incoming.reference}"
        change = work.journal.change(keeper.shelf_id, keeper.id, at=incoming.sent_at, origin=origin)
        refused = Entry(kind=Kind.REFUSED, specimens=("A1",), day=incoming.sent_at.date(), note=incoming.text)
        work.journal.log(change, [refused], zone="UTC")
        mind = work.dialogs.get(keeper.id, chat)
        work.dialogs.set(keeper.id, chat, {"heard": mind.get("heard", 0) + 1})
        return [Reply(text=f"stored {incoming.text}")]

    def round_message(self, work, keeper, chat, day, at, late=False):
        opened = work.rounds.open_(keeper.id, keeper.shelf_id, day, due_at=at, tasks=[], at=at)
        return [Reply(text=f"round of {day}")] if opened else []

    def remind(self, work, keeper, chat, reminders, at):
        return []


def keepers_now(began: float) -> datetime:
    """The keepers' time; ``began`` is the real time at which it was :data:`START`."""
    return START + timedelta(hours=HOURS_A_SECOND * (time.time() - began))


def work_until_killed(url: str, began: float) -> None:
    """Takes in and ticks, for ever."""
    store = Store.open(url)
    talk = SmallTalk()
    clock = Clock(store, talk, Post())
    worker = Worker(
        store,
        me=Me(id=1, username="a_bot"),
        door=Door(()),
        talks=talk,
        plans=clock,
        now=lambda: keepers_now(began),
    )
    while True:
        try:
            rows = worker.waiting()
            for row in rows:
                worker.handle(row)
            clock.tick(keepers_now(began))
        except StoreUnavailableError:
            rows = ()  # another writes for long; what waits, waits on
        if not rows:
            time.sleep(0.01)
