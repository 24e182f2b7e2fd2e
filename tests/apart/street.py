"""Several keepers on one store, who write to the bot as Telegram brings it: real worker, conversation, clock.

People, chats and animals are invented. What goes out is looked at as a person would see it: text, labels of
buttons, lines shown for a moment, and files with what is in them.
"""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.clock import Clock
from bot.conversation import Conversation
from bot.telegram.admit import Door
from bot.telegram.poller import store_updates
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from bot.terms import KeeperSettings, Specimen
from storage import Store
from storage.records import Outgoing
from tests.telegram import updates as make

NOW = datetime(2026, 5, 14, 17, 30, tzinfo=UTC)
ME = Me(id=make.BOT["id"], username=make.BOT["username"])


@dataclass(frozen=True)
class Seen:
    """One request that went out: to which chat, which message it edits, and all that its reader sees."""

    chat: int
    text: str
    edits: int | None = None
    buttons: tuple[tuple[str, str], ...] = ()
    file: bytes = b""

    @property
    def everything(self) -> str:
        """Text, labels and the file's content as one string."""
        return "\n".join(
            [self.text, *(label for label, _ in self.buttons), self.file.decode("utf-8", "replace")]
        )


def seen(sent: Outgoing) -> Seen:
    """What a request shows."""
    params = sent.payload["params"]
    rows = params.get("reply_markup", {}).get("inline_keyboard", [])
    named = sent.payload.get("file")
    return Seen(
        chat=int(sent.chat),
        text=params.get("text", ""),
        edits=params.get("message_id"),
        buttons=tuple((button["text"], button["callback_data"]) for row in rows for button in row),
        file=Path(named[1]).read_bytes() if named else b"",
    )


@dataclass
class Street:
    """A store and one worker. ``now`` moves on by a minute with each message."""

    store: Store
    now: datetime = NOW
    received: dict[int, list[Seen]] = field(default_factory=dict)
    _updates: Iterable[int] = field(default_factory=lambda: itertools.count(1))
    _messages: Iterable[int] = field(default_factory=lambda: itertools.count(100))

    def __post_init__(self) -> None:
        talk, post = Conversation(), Post()
        self.clock = Clock(self.store, talk, post)
        self.worker = Worker(
            self.store, me=ME, door=Door([]), talks=talk, plans=self.clock, now=lambda: self.now
        )

    def moves_in(self, person: int, name: str, shelf: Iterable[Specimen] = (), **settings: str) -> int:
        """A keeper with a shelf; their number in the store."""
        with self.store.begin() as work:
            keeper = work.keepers.create(name, KeeperSettings(**({"zone": "UTC"} | settings)), at=self.now)
            work.keepers.link(keeper.id, "telegram", str(person))
            work.keepers.mark_settled(keeper.id)
            change = work.journal.change(keeper.shelf_id, keeper.id, at=self.now, origin=None)
            animals = list(shelf)
            came = (self.now - timedelta(days=300)).date()
            work.shelves.add_all(change, animals, on=[came] * len(animals))
            return keeper.id

    def says(
        self, person: int, text: str, *, where: int | None = None, edits: int | None = None, **more
    ) -> list[Seen]:
        """One message, or an edit of the message of a number; what went out for it."""
        number = next(self._messages) if edits is None else edits
        self.last_message = number
        body = make.message(text, user=person, where=where, number=number, **more)
        body["date"] = int(self.now.timestamp())
        return self.takes({"message" if edits is None else "edited_message": body})

    def presses(self, person: int, data: str, *, where: int | None = None, shown: int = 5) -> list[Seen]:
        """A press of a button with that data."""
        return self.takes(make.presses(data, user=person, where=where, shown=shown))

    def takes(self, update: dict) -> list[Seen]:
        """Any update, handled with all else that waits."""
        self.puts(update)
        sent = self.works()
        self.now += timedelta(minutes=1)
        return sent

    def puts(self, update: dict) -> None:
        """An update that is taken in and waits."""
        store_updates(
            self.store, [json.loads(json.dumps(update)) | {"update_id": next(self._updates)}], self.now
        )

    def works(self) -> list[Seen]:
        """Handles all that waits."""
        sent = []
        while rows := self.worker.waiting():
            for row in rows:
                sent += [seen(one) for one in self.worker.handle(row)]
        return self._noted(sent)

    def ticks(self) -> list[Seen]:
        """The clock ticks; what it put into the outbox."""
        with self.store.look() as work:
            before = {row.id for row in work.outbox.waiting(self.now, 10_000)}
        self.clock.tick(self.now)
        with self.store.look() as work:
            after = work.outbox.waiting(self.now, 10_000)
        return self._noted([seen(row) for row in after if row.id not in before])

    def arrive(self) -> dict[int, int]:
        """All that waits to be sent arrives, as the sender notes it; the latest message of each chat."""
        latest: dict[int, int] = {}
        with self.store.begin() as work:
            for row in work.outbox.waiting(self.now, 10_000):
                number = row.payload["params"].get("message_id") or next(self._messages)
                work.outbox.sent(row.id, message_ref=str(number), at=self.now)
                if (prompt := row.payload.get("prompt")) is not None:
                    work.prompts.shown_as(prompt, str(number))
                    latest[int(row.chat)] = number
        return latest

    def _noted(self, sent: list[Seen]) -> list[Seen]:
        for one in sent:
            self.received.setdefault(one.chat, []).append(one)
        return sent

    def told(self, person: int, text: str, **more) -> str:
        """Says something; all the texts that came back as one."""
        return "\n".join(one.text for one in self.says(person, text, **more))
