"""A keeper's house for replaying faults: a store, the conversation, the clock, and a letter box.

Everything goes through the doors that a front end uses: messages and presses in, replies out, and the clock
ticking. Time is the keeper's wall time and is always said.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from bot.clock import Clock
from bot.conversation import Conversation
from bot.conversation.model import Incoming, Reply
from bot.terms import Entry, KeeperSettings, Specimen
from storage import Store

CHAT = "7"
#: An invented shelf; names that are like days, numbers or each other are added where a fault needs them.
SHELF = (
    Specimen(tag="T12", name="Rosie", species="Grammostola rosea", place="rack A"),
    Specimen(tag="T13", name="Sunny", species="Tliltocatl albopilosus", place="rack A"),
    Specimen(tag="T112", name="Biscuit", species="Brachypelma hamorii", place="rack B"),
)


class LetterBox:
    """What was said unasked: (moment, text), once for each key."""

    front_end = "box"

    def __init__(self) -> None:
        self.letters: list[tuple[datetime, str]] = []
        self.replies: list[Reply] = []
        self.keys: set[str] = set()

    def home(self, contacts):
        return next((c.address for c in contacts if c.front_end == self.front_end), None)

    def nudge(self, work, *, keeper_id, chat, replies, key, at):
        if key in self.keys or not replies:
            return False
        self.keys.add(key)
        self.letters += [(at, reply.text) for reply in replies]
        self.replies += replies
        return True


class House:
    """One keeper with a shelf."""

    def __init__(
        self,
        store: Store,
        *,
        now: str,
        zone: str = "Europe/Berlin",
        shelf: Iterable[Specimen] = SHELF,
        **chosen,
    ) -> None:
        self.store, self.zone, self.now = store, zone, now
        self.box, self.shown = LetterBox(), []
        self.message = 0
        settings = KeeperSettings(**({"zone": zone} | chosen))
        with store.begin() as work:
            self.keeper_id = work.keepers.create("Ada", settings, at=self.at - timedelta(days=400)).id
            keeper = work.keepers.get(self.keeper_id)
            self.shelf_id = keeper.shelf_id
            work.keepers.link(self.keeper_id, "box", CHAT)
            work.keepers.mark_settled(self.keeper_id)
            change = work.journal.change(
                self.shelf_id, self.keeper_id, at=self.at - timedelta(days=400), origin=None
            )
            came = (self.at - timedelta(days=400)).date()
            animals = list(shelf)
            work.shelves.add_all(change, animals, on=[came] * len(animals))
        self.restart()
        with store.begin() as work:
            self.clock.plan(work, work.keepers.get(self.keeper_id), self.at)

    def restart(self) -> None:
        """The program ends and starts anew; only the store is left."""
        self.talk = Conversation()
        self.clock = Clock(self.store, Conversation(), self.box)

    @property
    def at(self) -> datetime:
        """The keeper's wall time as an instant."""
        return datetime.fromisoformat(self.now).replace(tzinfo=ZoneInfo(self.zone)).astimezone(UTC)

    # --- the keeper acts

    def says(self, text: str, *, now: str | None = None, **more) -> str:
        """One message; all replies as one text."""
        self.now = now or self.now
        self.message += 1
        return self._told(Incoming(sent_at=self.at, text=text, reference=str(self.message), **more))

    def presses(self, label: str, *, now: str | None = None) -> str:
        """Presses the button of that label on the newest reply that has it."""
        self.now = now or self.now
        found = [
            b for r in (*self.shown, *self.box.replies) for row in r.buttons for b in row if b.label == label
        ]
        return self._told(Incoming(sent_at=self.at, pressed=found[-1].data))

    def presses_data(self, data: str) -> str:
        """A press whose data is whatever somebody sends."""
        return self._told(Incoming(sent_at=self.at, pressed=data))

    def _told(self, incoming: Incoming) -> str:
        with self.store.begin() as work:
            keeper = work.keepers.get(self.keeper_id)
            replies = self.talk.respond(work, keeper, CHAT, incoming)
            after = work.keepers.get(self.keeper_id)
            if after.settings != keeper.settings:
                self.zone = after.settings.zone
                self.clock.plan(work, after, self.at)
        self.shown += replies
        return "\n".join(reply.text for reply in replies)

    # --- time goes by

    def waits(self, until: str, *, step: timedelta = timedelta(minutes=5), asleep: bool = False) -> list[str]:
        """Time goes on; the letters that came, as "MM-DD HH:MM text". Asleep, it ticks at the end only."""
        before, moment = len(self.box.letters), self.at
        self.now = until
        while moment < self.at and not asleep:
            self.clock.tick(moment)
            moment += step
        self.clock.tick(self.at)
        zone = ZoneInfo(self.zone)
        return [f"{at.astimezone(zone):%m-%d %H:%M} {text}" for at, text in self.box.letters[before:]]

    # --- what is in the store

    def entries(self) -> list[Entry]:
        """The journal as it stands, newest first."""
        with self.store.look() as work:
            return [row.entry for row in work.journal.entries(self.shelf_id)]

    def told_of(self, *fields: str) -> list[tuple]:
        """The journal's tags, kinds and days, with further fields, in the order of recording."""
        return [
            ("".join(e.specimens), e.kind.value, e.day.isoformat(), *(getattr(e, f) for f in fields))
            for e in self.in_order()
        ]

    def in_order(self) -> Sequence[Entry]:
        """The journal in the order of days, then of recording."""
        with self.store.look() as work:
            return [row.entry for row in work.journal.entries(self.shelf_id, newest_first=False)]

    def next_meal(self, tag: str):
        """The day of the next meal as it stands now."""
        from bot.round.worklist import next_for

        with self.store.look() as work:
            facts = {f.specimen.tag: f for f in work.shelves.facts(self.shelf_id)}
        return next_for(facts[tag], self.at.astimezone(ZoneInfo(self.zone)).date()).feed_on


def named(tag: str, name: str | None, species: str = "Grammostola rosea", **more) -> Specimen:
    """An invented animal."""
    return replace(Specimen(tag=tag, name=name, species=species), **more)
