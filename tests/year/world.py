"""A simulated stretch of a shelf's life: a keeper, Telegram, and a program that is killed and stopped.

All is ours and real but two things: updates come from a queue of this file in place of polling, and what
stands in the outbox is carried by :class:`Program` itself, which sends first and marks after, as the sender
does (poller and sender have tests of their own). A kill is raised out of a statement to the store, or between
sending and marking; whatever was not committed is gone then, and a new program opens the same file. While the
computer's clock is wrong the keeper only writes: what is pressed then is dated by that clock. People, animals
and events are invented.
"""

from __future__ import annotations

from collections import Counter, deque
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from sqlalchemy import event

from bot.clock import Clock
from bot.conversation import Conversation
from bot.demo.shelf import crowd
from bot.round.worklist import worklist
from bot.telegram.admit import Door
from bot.telegram.poller import store_updates
from bot.telegram.post import Post
from bot.telegram.translate import Me
from bot.telegram.worker import Worker
from bot.terms import KeeperSettings, Kind, Stage
from storage import Store
from storage.records import Outgoing
from tests.telegram import updates as make

KEEPER, ZONE = 7, "Europe/Berlin"
#: Telegram keeps an update for a day (public Bot API description of getUpdates).
KEPT = timedelta(hours=24)
#: Wall times of a day at which the program gets to work.
MOMENTS = (
    *((0, 30), (6, 0), (7, 30), (8, 0), (8, 10), (9, 0), (11, 0)),
    *((13, 0), (16, 0), (18, 0), (20, 0), (21, 30), (23, 30)),
)
WORDS = {
    Kind.WATERED: "watered {tag}",
    Kind.CHECKED: "checked {tag}",
    Kind.SEALED: "{tag} sealed",
    Kind.OPENED: "{tag} opened up",
    Kind.MOLTED: "{tag} molted",
}


#: What is tapped at a place that was opened, and how the labels of those end that can be.
DONE, ALL_DONE, OPENS = "Done", "All done", " …"


class Killed(BaseException):
    """The program ends here, whatever it was doing."""


@dataclass
class Telegram:
    """Updates that wait to be fetched, and what arrived in the chat."""

    number: int = 0
    waiting: deque[tuple[datetime, dict]] = field(default_factory=deque)
    #: Messages that nobody fetched within the time that they are kept, by number.
    lost: set[int] = field(default_factory=set)
    arrived: list[Outgoing] = field(default_factory=list)
    shown: dict[int, dict] = field(default_factory=dict)

    def put(self, at: datetime, update: dict) -> None:
        self.number += 1
        self.waiting.append((at, update | {"update_id": self.number}))

    def fetched(self, at: datetime, chance: Random) -> list[dict]:
        """What waits, now and then in another order or some of it twice; what is too old is gone."""
        while self.waiting and self.waiting[0][0] < at - KEPT:
            _, gone = self.waiting.popleft()
            self.lost |= {gone["message"]["message_id"]} if "message" in gone else set()
        found = [update for _, update in self.waiting]
        if len(found) > 1 and chance.random() < 0.3:
            n = chance.randrange(len(found) - 1)
            found[n], found[n + 1] = found[n + 1], found[n]
        return found + ([chance.choice(found)] if found and chance.random() < 0.3 else [])


@dataclass
class Said:
    """A message of the keeper that has to be in the journal exactly once."""

    at: datetime
    tag: str
    kind: Kind


class Program:
    """One life of the program: worker, clock and carrier on an open store."""

    def __init__(self, url: str, world: World) -> None:
        self.store, self.world = Store.open(url), world
        self.clock = Clock(self.store, world.watched(Conversation()), Post())
        self.worker = Worker(
            self.store,
            me=Me(id=make.BOT["id"], username=make.BOT["username"]),
            door=Door([KEEPER]),
            talks=Conversation(),
            plans=self.clock,
            now=lambda: world.clock_now,
        )
        event.listen(self.store.engine, "before_cursor_execute", world.may_die)

    def works(self) -> None:
        """Fetches, answers, ticks, and sends what waits."""
        now, world = self.world.clock_now, self.world
        updates = world.telegram.fetched(world.now, world.chance)
        if updates:
            store_updates(self.store, updates, now)
            world.telegram.waiting.clear()
        while rows := self.worker.waiting():
            for row in rows:
                self.worker.handle(row)
        self.clock.tick(now)
        if world.now >= world.slow_until:
            self._carry(now)

    def _carry(self, now: datetime) -> None:
        for _ in range(60):
            with self.store.begin() as work:
                rows = work.outbox.claim(now, 20)
            if not rows:
                return
            for row in rows:
                self._send(row, now)

    def _send(self, row, now: datetime) -> None:
        world = self.world
        if world.blocked:
            with self.store.begin() as work:
                work.outbox.failed(row.id, "blocked", at=now)
                work.keepers.pause(row.keeper_id)
            return
        reference = world.arrives(row)
        world.may_die()
        with self.store.begin() as work:
            work.outbox.sent(row.id, message_ref=str(reference), at=now)
            if (prompt := row.payload.get("prompt")) is not None:
                work.prompts.shown_as(prompt, str(reference))


class World:
    """The days, by a seed."""

    def __init__(self, folder: Path, *, seed: int, days: int, kills: int, outages: int, jumps: int) -> None:
        self.url, self.chance, self.days = f"sqlite:///{folder / 'year.db'}", Random(seed), days
        self.first = date(2026, 1, 5)
        self.now = self._wall(self.first, 0)
        self.offset, self.telegram = timedelta(0), Telegram()
        self.blocked, self.slow_until = False, self.now
        self.countdown: int | None = None
        self.kills_done = self.jumps_done = self.outages_done = 0
        self.said: dict[int, Said] = {}
        self.prompted_at_rest: list[tuple[date, str]] = []
        self.up_days: set[date] = set()
        self.nothing_due: set[date] = set()
        #: Which message told of a seal.
        self.sealed: dict[str, int] = {}
        self.last_molt: dict[str, date] = {}
        self.message = 100
        self.pressed: Counter[str] = Counter()
        self._plan(kills, outages, jumps)
        self._set_up()

    def _wall(self, day: date, hour: int, minute: int = 0) -> datetime:
        wall = datetime(day.year, day.month, day.day, hour, minute, tzinfo=ZoneInfo(ZONE))
        return wall.astimezone(UTC)

    def _plan(self, kills: int, outages: int, jumps: int) -> None:
        chance, days = self.chance, self.days
        self.kills = Counter(chance.randrange(1, days) for _ in range(kills))
        self.down: list[tuple[datetime, datetime]] = []
        for _ in range(outages):
            start = self._wall(self.first + timedelta(days=chance.randrange(1, days)), chance.randrange(24))
            minutes = chance.choice((5, 40, 180, 600, 1500, 2880, 4300))
            self.down.append((start, start + timedelta(minutes=minutes)))
        self.jumps: list[tuple[datetime, datetime, timedelta]] = []
        for _ in range(jumps // 2):  # each is set right again, which is a jump too
            start = self._wall(self.first + timedelta(days=chance.randrange(1, days)), chance.randrange(24))
            by = timedelta(minutes=chance.choice((-2000, -180, -20, 7, 55, 300, 1440)))
            self.jumps.append((start, start + timedelta(hours=chance.randrange(1, 9)), by))
        self.blocks = [
            (day, day + chance.randrange(1, 4))
            for day in (chance.randrange(2, days) for _ in range(max(1, days // 90)))
        ]
        self.slow_days = {chance.randrange(1, days) for _ in range(max(1, days // 30))}

    def _set_up(self) -> None:
        store = Store.open(self.url)
        residents = crowd(60, seed=self.chance.randrange(1000))
        self.tags = [one.specimen.tag for one in residents]
        self.males = {one.specimen.tag for one in residents if one.specimen.stage is Stage.MATURE_MALE}
        with store.begin() as work:
            keeper = work.keepers.create("Ada (invented)", KeeperSettings(zone=ZONE), at=self.now)
            self.keeper_id, self.shelf_id = keeper.id, keeper.shelf_id
            work.keepers.link(keeper.id, "telegram", str(KEEPER))
            work.keepers.mark_settled(keeper.id)
            work.keepers.set_next_round(keeper.id, self._wall(self.first, 8))
            change = work.journal.change(keeper.shelf_id, keeper.id, at=self.now, origin=None)
            came = [self.first - timedelta(days=400)] * len(residents)
            work.shelves.add_all(change, [one.specimen for one in residents], on=came)
        store.close()
        self.program: Program | None = None

    # --- what the program is given

    @property
    def clock_now(self) -> datetime:
        """The moment by the computer's clock."""
        return self.now + self.offset

    def may_die(self, *_of_the_event) -> None:
        """Counts down to the next kill."""
        if self.countdown is not None:
            self.countdown -= 1
            if self.countdown <= 0:
                self.countdown = None
                raise Killed

    def watched(self, talk: Conversation) -> Conversation:
        """The conversation, with a look at each round when it is made: who rests is not asked to be fed."""
        ask = talk.round_message

        def looked_at(work, keeper, chat, day, at, late=False):
            if not worklist(work.shelves.facts(self.shelf_id), day).tasks:
                self.nothing_due.add(day)
            replies = ask(work, keeper, chat, day, at, late=late)
            if replies and (found := work.rounds.of_day(keeper.id, day)):
                feeds = {item["tag"] for item in found.tasks if item["task"] == "feed"}
                self.prompted_at_rest += [(day, tag) for tag in feeds & self._at_rest(work, day)]
            return replies

        talk.round_message = looked_at
        return talk

    def _at_rest(self, work, day: date) -> set[str]:
        """Who rests by the plain journal: sealed or in premolt and not opened or molted since; just molted.

        Two days for a new exoskeleton are less than anybody waits (common practice, no source).
        """
        rests: set[str] = set()
        for row in work.journal.entries(self.shelf_id, newest_first=False, until=day):
            kind, tags = row.entry.kind, set(row.entry.specimens)
            if kind in (Kind.SEALED, Kind.PREMOLT):
                rests |= tags
            elif kind in (Kind.OPENED, Kind.MOLTED, Kind.FED):
                rests -= tags
            if kind is Kind.MOLTED and (day - row.entry.day).days < 2:
                rests |= tags
        return rests

    def arrives(self, row) -> int:
        """A message or an edit in the chat."""
        number = row.payload["params"].get("message_id") or len(self.telegram.arrived) + 1000
        self.telegram.arrived.append(row)
        if row.method != "answerCallbackQuery":
            self.telegram.shown[int(number)] = row.payload["params"]
        return int(number)

    # --- the days

    def run(self) -> None:
        """All days; then a quiet hour in which everything that waits is done."""
        for number in range(self.days):
            self._day(number)
        self.blocked, self.offset, self.slow_until, self.countdown = False, timedelta(0), self.now, None
        for _ in range(6):
            self.now += timedelta(minutes=30)
            self._step()

    def _day(self, number: int) -> None:
        day = self.first + timedelta(days=number)
        self._blocks(number)
        if number in self.slow_days:
            self.slow_until = self._wall(day, 8) + timedelta(hours=self.chance.randrange(1, 9))
        kills = self.kills[number]
        for at, (hour, minute) in enumerate(MOMENTS):
            self.now = self._wall(day, hour, minute)
            if 8 <= hour <= 21:
                self._keeper_does_something(day)
            if kills and self.countdown is None and self.chance.random() < 1 / (len(MOMENTS) - at):
                self.countdown, kills = self.chance.randrange(1, 90), kills - 1
            self._step()
            awake = 8 <= hour < 22  # the quiet hours begin then
            if self._is_up() and awake and not self.blocked and self.offset == timedelta(0):
                self.up_days.add(day)

    def _blocks(self, number: int) -> None:
        now_blocked = any(start <= number < end for start, end in self.blocks)
        if now_blocked != self.blocked:
            self.blocked = now_blocked
            self.telegram.put(self.now, make.membership("kicked" if now_blocked else "member", user=KEEPER))

    def _is_up(self) -> bool:
        return not any(start <= self.now < end for start, end in self.down)

    def _step(self) -> None:
        wrong = [by for start, end, by in self.jumps if start <= self.now < end]
        offset = wrong[0] if wrong else timedelta(0)
        if offset != self.offset:
            self.offset, self.jumps_done = offset, self.jumps_done + 1
        if not self._is_up():
            self._stops()
            return
        for _ in range(4):
            try:
                self.program = self.program or Program(self.url, self)
                self.program.works()
            except Killed:
                self.kills_done += 1
                self._stops(killed=True)
                continue
            return

    def _stops(self, *, killed: bool = False) -> None:
        if self.program is not None:
            event.remove(self.program.store.engine, "before_cursor_execute", self.may_die)
            self.program.store.close()
            self.outages_done += not killed
            self.program = None

    # --- the keeper

    def _keeper_does_something(self, day: date) -> None:
        if self.blocked:
            return
        if self.chance.random() < 0.4:
            self._writes(day)
        if self.offset == timedelta(0) and self.chance.random() < 0.5:
            self._presses(self._label())

    def _label(self) -> str:
        """The round is done as a whole, or place by place: one is opened, and at the next look it is done."""
        newest_first = [self.telegram.shown[number] for number in sorted(self.telegram.shown, reverse=True)]
        newest = next((one for one in newest_first if {DONE, ALL_DONE} & _labels(one).keys()), {})
        if _button(newest, DONE):
            return DONE
        places = [label for label in _labels(newest) if label.endswith(OPENS)]
        return self.chance.choice(places) if places and self.chance.random() < 0.5 else ALL_DONE

    def _writes(self, day: date) -> None:
        tag, kind = (
            self.chance.choice(self.tags),
            self.chance.choice((Kind.WATERED, Kind.CHECKED, Kind.SEALED)),
        )
        self.message += 1
        if self._is_sealed(tag):
            kind = self._ends_seal(tag, day)
        elif kind is Kind.SEALED:
            self.sealed[tag] = self.message
        text = WORDS[kind].format(tag=tag)
        sent = {"date": int(self.now.timestamp())}
        self.telegram.put(self.now, make.says(text, user=KEEPER, number=self.message) | {})
        self.telegram.waiting[-1][1]["message"] |= sent
        self.said[self.message] = Said(self.now, tag, kind)

    def _is_sealed(self, tag: str) -> bool:
        """Whether the program knows it: a message that was lost told it nothing."""
        return tag in self.sealed and self.sealed[tag] not in self.telegram.lost

    def _ends_seal(self, tag: str, day: date) -> Kind:
        """A molt, or a burrow opened; not yet on the day of the seal, which may have begun with a meal.

        A molt on the day of a meal, of a mature male, or soon after another, is asked about and not stored.
        """
        if self.said[self.sealed[tag]].at.date() == day:
            return Kind.CHECKED
        del self.sealed[tag]
        if tag in self.males or (day - self.last_molt.get(tag, date.min)).days <= 30:
            return Kind.OPENED
        self.last_molt[tag] = day
        return Kind.MOLTED

    def _presses(self, label: str) -> None:
        """Presses a button of the newest message that has it; now and then twice, or on an old message."""
        with_it = [n for n in sorted(self.telegram.shown) if _button(self.telegram.shown[n], label)]
        if not with_it:
            return
        old = self.chance.random() < 0.1
        number = self.chance.choice(with_it) if old else with_it[-1]
        data = _button(self.telegram.shown[number], label)
        self.pressed[label] += 1
        for _ in range(1 + (self.chance.random() < 0.3)):
            update = make.presses(data, user=KEEPER, shown=number)
            update["callback_query"]["id"] = f"q{self.telegram.number + 1}"
            self.telegram.put(self.now, update)


def _labels(params: dict) -> dict[str, str]:
    """The buttons of a message, and what pressing them sends."""
    rows = params.get("reply_markup", {}).get("inline_keyboard", [])
    return {button["text"]: button["callback_data"] for row in rows for button in row}


def _button(params: dict, label: str) -> str | None:
    return _labels(params).get(label)
