"""What happens by the clock: each tick asks the store who is due, and nothing else is kept in mind.

Rules:

- A round comes once for each of the keeper's days, at the round's wall time in their zone.
- In the quiet hours nothing comes; what falls due there comes at their end. So it is with quiet that a keeper
  wished for, but the rounds of that time are left out.
- After the bot was down there is one round with what is due now, marked late, whatever was missed.
- Keepers who stopped the bot are left out, and nothing piles up for them.
- Reminders that are due together come as one message.
- What others of a shelf did is told quietly, some of it at a time, and not in the quiet hours.
- A keeper whose round fails is tried again after a while, and keeps nobody else waiting.
- When the computer's clock is set back, rounds that were put off by it are brought forward again.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, date, datetime, timedelta
from threading import Event
from typing import Final, Protocol

from bot.clock.walltime import end_of_quiet, next_by_rule, next_round
from bot.conversation.model import Reply
from bot.terms import KeeperSettings, local_day
from storage import Store, Work
from storage.records import Contact, Keeper, StoredNews, StoredReminder

_log = logging.getLogger(__name__)

_SLICE: Final = 200
_A_MOMENT: Final = 0.001
_A_TICK: Final = timedelta(seconds=1)
_LATE_AFTER: Final = timedelta(minutes=15)
_TRY_AGAIN_AFTER: Final = timedelta(minutes=15)
#: No round is planned further ahead than this by a clock that is right: from an early hour on the longest day
#: to a late one on the next.
_FARTHEST: Final = timedelta(hours=50)
#: A small board with no battery starts in 1970: nothing is planned by such a clock.
_BEFORE_ALL: Final = datetime(2000, 1, 1, tzinfo=UTC)
#: A clock that is kept in step goes back by less than this; by more, it was set.
_SET_BACK: Final = timedelta(minutes=1)


class Speaks(Protocol):
    """The conversation, as far as the clock needs it."""

    def round_message(
        self, work: Work, keeper: Keeper, chat: str, day: date, at: datetime, late: bool = False
    ) -> Sequence[Reply]:
        """The round of a day; nothing where there is none to send."""

    def remind(
        self, work: Work, keeper: Keeper, chat: str, reminders: Sequence[StoredReminder], at: datetime
    ) -> Sequence[Reply]:
        """What reminders that are due together say now."""

    def news(
        self, work: Work, keeper: Keeper, chat: str, rows: Sequence[StoredNews], at: datetime
    ) -> Sequence[Reply]:
        """What others did on the keeper's shelf."""


class Posts(Protocol):
    """The way out of a front end."""

    front_end: str

    def home(self, contacts: Iterable[Contact]) -> str | None:
        """The chat in which a keeper is spoken to unasked."""

    def nudge(
        self, work: Work, *, keeper_id: int, chat: str, replies: Sequence[Reply], key: str, at: datetime
    ) -> bool:
        """Posts replies once for each key."""


class Clock:
    """Rounds and reminders when their time has come. ``now`` and ``at`` are aware instants."""

    def __init__(
        self, store: Store, speaks: Speaks, posts: Posts, on_round: Callable[[float], None] | None = None
    ) -> None:
        """``on_round`` is told of each round how many seconds after its wall time it was made."""
        self._store, self._speaks, self._posts, self._on_round = store, speaks, posts, on_round
        self._last_tick: datetime | None = None
        self._stopping = Event()

    def stop(self) -> None:
        """Makes a tick that runs in another thread end with the keeper it is at."""
        self._stopping.set()

    def tick(self, now: datetime) -> int:
        """Posts all that is due. How many messages were posted."""
        if now >= _BEFORE_ALL:
            self._mind_the_clock(now)
        if not self._is_anything_due(now):
            return 0
        return self._rounds(now) + self._reminders(now) + self._news(now)

    def _is_anything_due(self, now: datetime) -> bool:
        """Asked in one transaction: most ticks find nothing to do."""
        with self._store.look() as work:
            return bool(
                work.keepers.due_for_round(now, 1) or work.reminders.due(now, 1) or work.news.due(now, 1)
            )

    def plan(self, work: Work, keeper: Keeper, at: datetime) -> None:
        """Sets when the keeper's next round falls due, by the settings as they are now."""
        work.keepers.set_next_round(keeper.id, next_round(at, keeper.settings))

    # --- rounds

    def _rounds(self, now: datetime) -> int:
        posted, tried = 0, set[int]()
        while not self._stopping.is_set():
            with self._store.look() as work:
                due = work.keepers.due_for_round(now, _SLICE)
            fresh = [keeper.id for keeper in due if keeper.id not in tried]
            if not fresh:
                break  # nobody is due, or those who are another process has in hand
            tried.update(fresh)
            posted += sum(self._round_of(number, now) for number in fresh if not self._lets_others_go())
        return posted

    def _round_of(self, keeper_id: int, now: datetime) -> bool:
        try:
            with self._store.begin() as work:
                return self._open_round(work, keeper_id, now)
        except Exception:
            _log.exception("a round could not be made", extra={"keeper": keeper_id})
        with self._store.begin() as work:
            work.keepers.set_next_round(keeper_id, now + _TRY_AGAIN_AFTER)
        return False

    def _open_round(self, work: Work, keeper_id: int, now: datetime) -> bool:
        keeper = work.keepers.take_round(keeper_id, now)
        if keeper is None:
            return False  # another worker was faster, or the keeper changed the time meanwhile
        due_at, settings = keeper.next_round_at or now, keeper.settings
        if settings.quiet_until is not None and now < settings.quiet_until:
            self.plan(work, keeper, settings.quiet_until - _A_TICK)
            return False
        if (end := _quiet_till(settings, now)) is not None:
            work.keepers.set_next_round(keeper_id, end)
            return False
        self.plan(work, keeper, now)
        chat = self._posts.home(work.keepers.contacts(keeper_id))
        if chat is None:
            return False
        late = now - due_at > _LATE_AFTER
        day = settings.day_of(now if late else due_at)  # one of 23:59 that comes at midnight is of its day
        replies = self._speaks.round_message(work, keeper, chat, day, now, late=late)
        if self._on_round is not None:
            self._on_round((now - due_at).total_seconds())
        key = f"round:{keeper_id}:{day}"
        return self._posts.nudge(work, keeper_id=keeper_id, chat=chat, replies=replies, key=key, at=now)

    def _mind_the_clock(self, now: datetime) -> None:
        if self._last_tick is None:
            self._plan_anew(now, after=now + _FARTHEST)
        elif now < self._last_tick - _SET_BACK:
            self._plan_anew(now, after=now)
        self._last_tick = now

    def _plan_anew(self, now: datetime, *, after: datetime) -> None:
        """Brings rounds forward that a wrong clock put off: those planned for after a moment."""
        with self._store.begin() as work:
            for keeper in work.keepers.planned_after(after):
                following = _by_the_right_clock(work, keeper, now)
                if keeper.next_round_at is not None and following < keeper.next_round_at:
                    work.keepers.set_next_round(keeper.id, following)

    # --- reminders

    def _reminders(self, now: datetime) -> int:
        posted = 0
        while not self._stopping.is_set():
            with self._store.look() as work:
                due = work.reminders.due(now, _SLICE)
            if not due:
                break
            groups: dict[int, list[StoredReminder]] = {}
            for reminder in due:
                groups.setdefault(reminder.keeper_id, []).append(reminder)
            posted += sum(self._tell(group, now) for group in groups.values() if not self._lets_others_go())
        return posted

    # --- what others did on a shelf

    def _news(self, now: datetime) -> int:
        with self._store.look() as work:
            due = work.news.due(now, _SLICE)
        return sum(self._news_for(keeper_id, now) for keeper_id in due if not self._lets_others_go())

    def _news_for(self, keeper_id: int, now: datetime) -> bool:
        try:
            with self._store.begin() as work:
                return self._tell_news(work, keeper_id, now)
        except Exception:
            _log.exception("news could not be told", extra={"keeper": keeper_id})
        with self._store.begin() as work:
            work.news.later(keeper_id, now + _TRY_AGAIN_AFTER)
        return False

    def _tell_news(self, work: Work, keeper_id: int, now: datetime) -> bool:
        keeper = work.keepers.get(keeper_id)
        settings = keeper.settings
        if (end := _quiet_till(settings, now)) is not None:
            work.news.later(keeper_id, end)
            return False
        rows = work.news.waiting(keeper_id)
        chat = self._posts.home(work.keepers.contacts(keeper_id))
        replies = self._speaks.news(work, keeper, chat, rows, now) if rows and chat else []
        work.news.told((row.id for row in rows), at=now)
        if chat is None or not replies:
            return False
        key = f"news:{keeper_id}:{rows[-1].id}"
        return self._posts.nudge(work, keeper_id=keeper_id, chat=chat, replies=replies, key=key, at=now)

    def _lets_others_go(self) -> bool:
        """Leaves the store for a moment to those who answer somebody. True when it is time to stop."""
        return self._stopping.wait(_A_MOMENT)

    def _tell(self, group: Sequence[StoredReminder], now: datetime) -> int:
        """Tells what is due for one keeper together; where that fails, each by itself."""
        try:
            with self._store.begin() as work:
                return int(self._remind(work, group, now))
        except Exception:
            _log.exception("reminders could not be told", extra={"reminders": [one.id for one in group]})
        if len(group) > 1:
            return sum(self._tell([one], now) for one in group)
        with self._store.begin() as work:
            work.reminders.moved(group[0].id, now + _TRY_AGAIN_AFTER)
        return 0

    def _remind(self, work: Work, group: Sequence[StoredReminder], now: datetime) -> bool:
        group = work.reminders.still_due(now, [one.id for one in group])
        if not group:
            return False
        keeper = work.keepers.get(group[0].keeper_id)
        settings = keeper.settings
        if (end := _quiet_till(settings, now)) is not None:
            for one in group:
                work.reminders.moved(one.id, end)
            return False
        for one in group:
            move_on(work, one, now, settings)
        chat = self._posts.home(work.keepers.contacts(keeper.id))
        if chat is None:
            return False
        replies = self._speaks.remind(work, keeper, chat, group, now)
        key = "reminder:" + ".".join(f"{one.id}" for one in group) + f":{group[0].next_at:%Y-%m-%dT%H:%M:%S}"
        return self._posts.nudge(work, keeper_id=keeper.id, chat=chat, replies=replies, key=key, at=now)


def move_on(work: Work, reminder: StoredReminder, now: datetime, settings: KeeperSettings) -> None:
    """Sets when a reminder told now is told next; closes one without a next.

    One that has no time of day comes with the round of each of its days.
    """
    first = reminder.day or local_day(reminder.next_at, reminder.zone)
    following = (
        next_by_rule(
            now, first, reminder.repeats, lambda day: settings.hour_on(day, reminder.time), reminder.zone
        )
        if reminder.repeats
        else None
    )
    if following is None:
        work.reminders.end(reminder.id)
    else:
        work.reminders.moved(reminder.id, following)


def _by_the_right_clock(work: Work, keeper: Keeper, now: datetime) -> datetime:
    """When a keeper's next round falls due: today's, where its time is past and it never came."""
    settings = keeper.settings
    today = settings.day_of(now)
    moment = settings.round_on(today)
    come = work.rounds.of_day(keeper.id, today) if moment <= now else None
    if moment <= now and (come is None or come.is_to_come):
        return moment
    return next_round(now, settings)


def _quiet_till(settings: KeeperSettings, now: datetime) -> datetime | None:
    """When what is due now may come: after the quiet that was wished for and the quiet hours."""
    wished = settings.quiet_until
    start = wished if wished is not None and now < wished else now
    end = end_of_quiet(start, settings.quiet_from, settings.quiet_to, settings.zone)
    return end if end > now else None
