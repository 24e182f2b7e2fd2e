"""What keeps the store safe by the clock: a copy a day, a sealed one sent each week, a look at the disk.

Rules:

- A day's copy is made once, by one of all processes; what fails is tried again, and told once a day:
  that a copy could not be sealed is no word against the copy.
- Old copies go only after a new one proved whole.
- Once a week the copy, sealed, goes to the chat of the one who runs the bot, and to nobody else: it holds
  what every keeper wrote.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final, Protocol

from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.terms.language import speaking
from storage import Store, Work
from storage.copies import Copies, room_left
from storage.errors import StoreError
from storage.rights import SoleRight

_log = logging.getLogger(__name__)

_BOOKMARK: Final = "safekeeping"
_MEGABYTE: Final = 1_000_000
#: Telegram takes files of up to 50 MB from a bot (Bot API, sendDocument); one is held in memory several
#: times while it is sent, and the service unit allows 256 MB.
_MOST_SENT: Final = 20 * _MEGABYTE


class Posts(Protocol):
    """The way out of a front end."""

    front_end: str

    def nudge(
        self, work: Work, *, keeper_id: int, chat: str, replies: Iterable[Reply], key: str, at: datetime
    ) -> bool:
        """Posts replies once for each key."""


class Safekeeping:
    """Copies and the disk. Blocking, and at times for long: meant for a thread of its own."""

    def __init__(
        self, store: Store, posts: Posts, *, operator: str, copies: Copies | None = None, key: str = ""
    ) -> None:
        """``operator`` is the address of the one who runs the bot; ``key`` the public key to seal with."""
        self._store, self._posts, self._operator = store, posts, operator
        self._copies, self._key = copies, key
        self._right = SoleRight(store, _BOOKMARK)

    def run(self, now: datetime) -> int:
        """Does what is to be done by now; how many messages were posted. Raises :class:`StoreError`."""
        if not self._right.held():
            return 0
        try:
            return self._room(now) + (self._copy(self._copies, now) if self._copies else 0)
        finally:
            self._right.release()

    def _room(self, now: datetime) -> int:
        free, wanted = room_left(self._store.url, self._copies.folder if self._copies else None)
        if free >= wanted:
            return 0
        _log.warning("the disk is filling up", extra={"free": free, "wanted": wanted})
        blanks = {"free": free // _MEGABYTE, "wanted": wanted // _MEGABYTE}
        return self._tell(lambda: Reply(text=say("keeping.room", **blanks)), f"room:{_day(now)}", now)

    def _copy(self, copies: Copies, now: datetime) -> int:
        today = _day(now)
        there = copies.days()
        made = there.get(today)
        if made is None:
            try:
                made = copies.make(today)
            except StoreError as problem:
                return self._not_copied(problem, max(there, default=None), now)
            _log.info("the store was copied")
        return self._sealed(copies, made, now) if self._key else 0

    def _not_copied(self, problem: StoreError, last: date | None, now: datetime) -> int:
        _log.error("the store could not be copied", extra={"why": str(problem)})

        def told() -> Reply:
            of = f"{last}" if last else say("keeping.none_yet")
            return Reply(text=say("keeping.failed", why=problem, last=of))

        return self._tell(told, f"copy-failed:{_day(now)}", now)

    def _sealed(self, copies: Copies, made: Path, now: datetime) -> int:
        """Sees to it that this week's copy is sealed and sent."""
        year, week, _ = _day(now).isocalendar()
        name = f"{year}-W{week:02}"
        with self._store.look() as work:
            if work.bookmarks.get(_BOOKMARK).get("sealed") == name:
                return 0
        try:
            sealed = copies.sealed(made, self._key)
        except StoreError as problem:
            why = str(problem)
            _log.error("the copy could not be sealed", extra={"why": why})
            return self._tell(
                lambda: Reply(text=say("keeping.unsealed", why=why)), f"seal-failed:{_day(now)}", now
            )
        posted = self._tell(lambda: _sent(sealed, _day(now)), f"sealed:{name}", now)
        with self._store.begin() as work:
            work.bookmarks.set(_BOOKMARK, {"sealed": name})
        return posted

    def _tell(self, reply: Callable[[], Reply], key: str, now: datetime) -> int:
        """Posts a reply, made in the language of the one who runs the bot."""
        with self._store.begin() as work:
            keeper = work.keepers.by_contact(self._posts.front_end, self._operator)
            if keeper is None:
                return 0  # who never wrote to the bot cannot be written to
            with speaking(keeper.settings.language):
                replies = [reply()]
            return int(
                self._posts.nudge(
                    work, keeper_id=keeper.id, chat=self._operator, replies=replies, key=key, at=now
                )
            )


def _sent(sealed: Path, day: date) -> Reply:
    size = sealed.stat().st_size
    if size > _MOST_SENT:
        return Reply(text=say("keeping.too_large", size=size // _MEGABYTE))
    return Reply(text=say("keeping.sealed", date=day), pictures=(sealed,), quiet=True)


def _day(now: datetime) -> date:
    return now.astimezone(UTC).date()
