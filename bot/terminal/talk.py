"""A keyboard's side of the conversation: lines in, replies out, ``#2`` presses the second button."""

from __future__ import annotations

import logging
import re
import secrets
from collections.abc import Callable
from datetime import date, datetime
from itertools import count
from typing import Final, Protocol

from bot.conversation.model import Button, Incoming, Reply
from bot.terminal import words
from storage import Store, Work
from storage.errors import NotOnShelfError
from storage.records import Keeper

_log = logging.getLogger(__name__)
_PRESS: Final = re.compile(r"\s*#\s*([0-9]{1,3})\s*")


class Talks(Protocol):
    """The conversation, as far as this front end needs it."""

    def respond(self, work: Work, keeper: Keeper, chat: str, incoming: Incoming) -> list[Reply]:
        """Replies to a message or a press."""

    def greet(self, work: Work, keeper: Keeper, chat: str, at: datetime) -> list[Reply]:
        """The first words to a keeper."""

    def round_message(self, work: Work, keeper: Keeper, chat: str, day: date, at: datetime) -> list[Reply]:
        """The round of a day."""


class Talk:
    """One keeper's talk at one keyboard. ``now`` gives the aware instant of each line."""

    def __init__(
        self, store: Store, keeper_id: int, talks: Talks, *, chat: str, now: Callable[[], datetime]
    ) -> None:
        self._store, self._keeper_id, self._talks = store, keeper_id, talks
        self._chat, self._now = chat, now
        self._session, self._numbers = secrets.token_hex(4), count(1)
        self._buttons: list[Button] = []

    def say(self, line: str) -> list[Reply]:
        """The replies to a line: a message, or the press of a button of the last reply that has any.

        What fails is taken back and told in a line: the talk goes on.
        """
        try:
            return self._replies(line)
        except Exception:  # one line that fails must not end the talk; its transaction is rolled back
            _log.exception("a line could not be answered")
            return [Reply(text=words.FAILED)]

    def _replies(self, line: str) -> list[Reply]:
        press, pressed = _PRESS.fullmatch(line), None
        if press:
            number = int(press[1])
            if not 1 <= number <= len(self._buttons):
                return [Reply(text=words.no_button(number, len(self._buttons)))]
            pressed = self._buttons[number - 1].data
        incoming = Incoming(
            sent_at=self._now(),
            text="" if press else line,
            pressed=pressed,
            reference=f"{self._session}-{next(self._numbers)}",
        )
        with self._store.begin() as work:
            keeper = self._keeper(work)
            if keeper is None:
                return [Reply(text=words.GONE)]
            return self._shown(self._talks.respond(work, keeper, self._chat, incoming))

    def greeting(self) -> list[Reply]:
        """The first words, for a keeper who has not answered the questions of the first day; else none."""
        with self._store.begin() as work:
            keeper = work.keepers.get(self._keeper_id)
            if keeper.settled:
                return []
            return self._shown(self._talks.greet(work, keeper, self._chat, self._now()))

    def morning_round(self) -> list[Reply]:
        """The round of today."""
        at = self._now()
        with self._store.begin() as work:
            keeper = work.keepers.get(self._keeper_id)
            day = keeper.settings.day_of(at)
            return self._shown(self._talks.round_message(work, keeper, self._chat, day, at))

    def _keeper(self, work: Work) -> Keeper | None:
        """Who talks; nobody once they had themselves erased."""
        try:
            keeper = work.keepers.get(self._keeper_id)
        except NotOnShelfError:
            return None
        return None if keeper.is_erased else keeper

    def _shown(self, replies: list[Reply]) -> list[Reply]:
        for reply in replies:
            if reply.buttons:
                self._buttons = [button for row in reply.buttons for button in row]
        return replies
