"""Plays a golden conversation: a text file that a keeper can read.

    # a comment
    now: 2026-05-14 19:30            the keeper's wall time
    newcomer: yes                    an empty shelf, first-day questions not answered
    given: 2026-05-01 fed A1 prey=cricket count=2

    > what the keeper writes         (``[photo] words`` and ``[sticker]`` stand for those)
    ~ the keeper edits the last message to this
    #2                               the keeper presses the second button of the last reply that has some
    ##2                              … of the reply before that
    @ 2026-05-15 08:00               time goes on
    ! round | ! reminders | ! greet | ! restart
    & Anna                           from now on Anna writes; ``& keeper`` is the keeper again
    ! opens the link                 … and she opens the invitation that was made last
    ! invites a partner | ! news     … what she hears of the others, as far as it is time
    < what the bot answers
      and its further lines
      ·                              an empty line of it
      [Button] [Button]              a row of buttons; ``<*`` replaces the message that was pressed

What is played is written out again in the same form, and has to be the same as the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from bot.clock.clock import move_on
from bot.conversation import Conversation
from bot.conversation.model import Incoming, Photo, Reply
from bot.terms import Entry, KeeperSettings
from storage import Store
from storage.codes import hash_of
from storage.records import Keeper, Role
from tests.conversation.given import CHAT, FRONT_END, INVENTED_SHELF, ZONE, a_keeper, at, entry_from

GOLDEN = Path(__file__).parent / "golden"


@dataclass
class Player:
    """One conversation with a store of its own."""

    store: Store
    talk: Conversation = field(default_factory=Conversation)
    now: str = "2026-05-14 19:30"
    keeper: Keeper | None = None
    writer: str = "keeper"
    shown: list[Reply] = field(default_factory=list)
    message: int = 100
    chat: str = CHAT
    code: str = ""
    people: dict[str, tuple[int, str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.talk = self._conversation()

    def _conversation(self) -> Conversation:
        return Conversation(link_of=self._link)

    def _link(self, code: str) -> str:
        self.code = code
        return "https://example.org/the-link"

    def settle_in(self, head: list[str]) -> None:
        """Sets the scene by the lines before the first message."""
        newcomer = "newcomer: yes" in head
        self.keeper = a_keeper(self.store, shelf=() if newcomer else INVENTED_SHELF, settled=not newcomer)
        for line in head:
            key, _, value = line.partition(": ")
            if key == "now":
                self.now = value
        given = [entry_from(line[len("given: ") :]) for line in head if line.startswith("given: ")]
        if given:
            with self.store.begin() as work:
                change = work.journal.change(
                    self.keeper.shelf_id, self.keeper.id, at=at("2026-04-01 12:00"), origin=None
                )
                work.journal.log(change, given, zone=ZONE)

    def play(self, line: str) -> list[Reply]:
        """Acts on one line of the script."""
        mark, rest = line[0], line[1:].strip()
        if mark == "@":
            self.now = rest
            return []
        if mark == "&":
            self._is_now(rest)
            return []
        if mark == "!":
            return self._happens(rest)
        if mark == "#":
            back = len(line) - len(line.lstrip("#"))
            with_buttons = [reply for reply in self.shown if reply.buttons]
            buttons = [button for row in with_buttons[-back].buttons for button in row]
            return self.say(pressed=buttons[int(line.lstrip("#")) - 1].data)
        if mark == ">":
            self.message += 1
        return self.say(text=rest, edits=mark == "~")

    def say(self, text: str = "", pressed: str | None = None, *, edits: bool = False) -> list[Reply]:
        """One message or press, in a transaction of its own."""
        photos: tuple[Photo, ...] = ()
        unsupported = None
        if text.startswith("[photo]"):
            text, photos = text.removeprefix("[photo]").strip(), (Photo(reference="photo-1"),)
        elif text.startswith("["):
            text, unsupported = "", text.strip("[]")
        incoming = Incoming(
            sent_at=at(self.now),
            text=text,
            pressed=pressed,
            reference=None if pressed else str(self.message),
            edits=edits,
            photos=photos,
            unsupported=unsupported,
            private=not self.chat.startswith("-"),
        )
        with self.store.begin() as work:
            keeper = work.keepers.get(self.keeper.id)
            return self.talk.respond(work, keeper, self.chat, incoming)

    def told(self, text: str) -> str:
        """Says something; all the replies as one text."""
        replies = self.play(f"> {text}")
        self.shown += replies
        return "\n".join(reply.text for reply in replies)

    def press(self, label: str) -> str:
        """Presses the button of that label on the latest reply that has it."""
        found = [b for reply in self.shown for row in reply.buttons for b in row if b.label == label]
        replies = self.say(pressed=found[-1].data)
        self.shown += replies
        return "\n".join(reply.text for reply in replies)

    def entries(self) -> list[Entry]:
        """The journal as it stands, newest first."""
        with self.store.look() as work:
            return [row.entry for row in work.journal.entries(self.keeper.shelf_id)]

    def _is_now(self, name: str) -> None:
        """Another person writes from now on, each in a chat of their own."""
        if not self.people:
            self.people["keeper"] = (self.keeper.id, self.chat)
        self.writer = name
        if name in self.people:
            number, self.chat = self.people[name]
            with self.store.look() as work:
                self.keeper = work.keepers.get(number)
        else:
            self.chat = f"chat of {name}"

    def _invites_a_partner(self) -> list[Reply]:
        """As the front end's own command does."""
        self.code = "partner"
        with self.store.begin() as work:
            work.keepers.invite(
                self.keeper.shelf_id,
                role=Role.PARTNER,
                code_hash=hash_of(self.code),
                by=self.keeper.id,
                expires_at=at(self.now) + timedelta(days=2),
                at=at(self.now),
            )
        return []

    def _news(self) -> list[Reply]:
        """What the one who writes hears of the others, as the clock would tell it now."""
        with self.store.begin() as work:
            if self.keeper.id not in work.news.due(at(self.now), 10):
                return []
            rows = work.news.waiting(self.keeper.id)
            replies = self.talk.news(work, work.keepers.get(self.keeper.id), self.chat, rows, at(self.now))
            work.news.told((row.id for row in rows), at=at(self.now))
            return replies

    def _opens_the_link(self) -> list[Reply]:
        """As a front end lets in who opens an invitation."""
        with self.store.begin() as work:
            let_in = work.keepers.redeem(
                hash_of(self.code),
                name=self.writer,
                front_end=FRONT_END,
                address=self.chat,
                settings=KeeperSettings(),
                at=at(self.now),
            )
            if let_in is None:
                return [Reply(text="(the link does not hold)")]
            self.people[self.writer], self.keeper = (let_in.id, self.chat), let_in
            return self.talk.greet(work, let_in, self.chat, at(self.now))

    def _happens(self, what: str) -> list[Reply]:
        moment = at(self.now)
        if what == "restart":
            self.talk = self._conversation()
            return []
        if what == "invites a partner":
            return self._invites_a_partner()
        if what == "news":
            return self._news()
        if what == "opens the link":
            return self._opens_the_link()
        with self.store.begin() as work:
            keeper = work.keepers.get(self.keeper.id)
            if what == "greet":
                return self.talk.greet(work, keeper, self.chat, moment)
            if what == "reminders":
                due = work.reminders.due(moment, 10)
                for one in due:
                    move_on(work, one, moment, keeper.settings)
                return self.talk.remind(work, keeper, self.chat, due, moment) if due else []
            return self.talk.round_message(work, keeper, self.chat, date.fromisoformat(self.now[:10]), moment)


def replayed(script: str) -> str:
    """The whole script with the replies that it gives now."""
    store = Store.open("sqlite://")
    try:
        return "\n".join(_lines(script, Player(store))) + "\n"
    finally:
        store.close()


def _lines(script: str, player: Player) -> Iterator[str]:
    lines = script.rstrip("\n").split("\n")
    start = next(n for n, line in enumerate(lines) if line[:1] in set(">!#@~&") and not line.startswith("# "))
    player.settle_in(lines[:start])
    yield from lines[:start]
    for line in lines[start:]:
        if line.startswith(("<", "  ")):
            continue
        if not line or line.startswith("# "):
            yield line
            continue
        yield line
        replies = player.play(line)
        player.shown += replies
        for reply in replies:
            yield from as_lines(reply)


def as_lines(reply: Reply) -> Iterator[str]:
    """A reply as it stands in a golden file."""
    first, *others = reply.text.split("\n")
    yield f"{'<*' if reply.edits_pressed else '<'} {first}".rstrip()
    for line in others:
        yield f"  {line or '·'}"
    for row in reply.buttons:
        yield "  " + " ".join(f"[{button.label}]" for button in row)
