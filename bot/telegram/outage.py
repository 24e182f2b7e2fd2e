"""Notices when the bot was away for so long that messages may be lost, and tells the keepers.

Telegram keeps what is not fetched for 24 hours (Bot API, getUpdates).
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from bot.conversation.model import Reply
from bot.telegram import words
from bot.telegram.post import Post
from storage import Store, Work

KEPT_FOR: Final = timedelta(hours=24)
_NOTED_EVERY: Final = timedelta(minutes=5)
_BOOKMARK: Final = "telegram/last poll"
_EVER: Final = timedelta(days=366 * 50)
_MOST: Final = 1_000_000


class LastPoll:
    """When Telegram was last reached, kept in the store. Blocking."""

    def __init__(self, store: Store, post: Post) -> None:
        self._store, self._post = store, post
        self._noted: datetime | None = None

    def note(self, now: datetime) -> int:
        """Notes a good poll, every few minutes. How many keepers were told of a gap before it."""
        if self._noted is not None and timedelta(0) <= now - self._noted < _NOTED_EVERY:
            return 0
        with self._store.begin() as work:
            last = work.bookmarks.get(_BOOKMARK).get("at")
            work.bookmarks.set(_BOOKMARK, {"at": now.isoformat()})
            told = self._tell(work, datetime.fromisoformat(last), now) if last else 0
        self._noted = now
        return told

    def _tell(self, work: Work, since: datetime, now: datetime) -> int:
        if now - since <= KEPT_FOR:
            return 0
        told = 0
        for keeper in work.keepers.due_for_round(now + _EVER, _MOST):  # all but those who stopped the bot
            chat = self._post.home(work.keepers.contacts(keeper.id))
            if chat is None:
                continue
            with words.spoken_to(keeper):
                text = words.outage(since, now - KEPT_FOR, now, keeper.settings.zone)
            key = f"outage:{keeper.id}:{since:%Y-%m-%dT%H:%M:%S}"
            reply = Reply(text=text, quiet=True)
            told += self._post.nudge(work, keeper_id=keeper.id, chat=chat, replies=[reply], key=key, at=now)
        return told
