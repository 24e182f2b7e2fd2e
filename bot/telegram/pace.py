"""How fast requests may go out. Pure: moments are seconds of any steady clock, given as arguments.

Telegram names these limits in its public FAQ for bots ("My bot is hitting limits"): about 30
messages a second over all, about one a second in one chat, with short bursts, and 20 a minute in
a group. Each is kept by a bucket that fills steadily: in any stretch no more pass than it holds
plus what flows in, which is chosen to stay below the limit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Limit:
    """At most ``burst`` at once, and ``rate`` a second after that."""

    burst: float
    rate: float


OVERALL: Final = Limit(burst=5, rate=24)
PRIVATE: Final = Limit(burst=3, rate=1)
GROUP: Final = Limit(burst=5, rate=0.25)
_KEPT: Final = 2_000


class _Bucket:
    """What is left of a limit."""

    __slots__ = ("_at", "_left", "_limit")

    def __init__(self, limit: Limit, at: float) -> None:
        self._limit, self._left, self._at = limit, limit.burst, at

    def _fill(self, now: float) -> None:
        gained = max(0.0, now - self._at) * self._limit.rate
        self._left, self._at = min(self._limit.burst, self._left + gained), max(now, self._at)

    def wait(self, now: float) -> float:
        self._fill(now)
        return max(0.0, (1 - self._left) / self._limit.rate)

    def take(self, now: float) -> None:
        self._fill(now)
        self._left -= 1

    def full(self, now: float) -> bool:
        self._fill(now)
        return self._left >= self._limit.burst


class Pace:
    """One pace for everything that is sent. Chats are Telegram's numbers, below zero for groups."""

    def __init__(self, *, overall: Limit = OVERALL, private: Limit = PRIVATE, group: Limit = GROUP) -> None:
        self._overall = _Bucket(overall, 0.0)
        self._limits = {True: private, False: group}
        self._chats: dict[int, _Bucket] = {}
        self._held: dict[int, float] = {}
        self._all_held = 0.0

    def wait_for_any(self, now: float) -> float:
        """Seconds until anything may be sent at all."""
        return max(self._overall.wait(now), self._all_held - now)

    def wait_for(self, chat: int, now: float) -> float:
        """Seconds until a message to this chat may be sent; 0 for at once."""
        bucket = self._chats.get(chat)
        own = bucket.wait(now) if bucket else 0.0
        return max(own, self._held.get(chat, 0.0) - now, self.wait_for_any(now))

    def take(self, chat: int, now: float) -> None:
        """Counts a message that is now sent to a chat."""
        if len(self._chats) > _KEPT:
            self._forget_idle(now)
        self._overall.take(now)
        self._chats.setdefault(chat, _Bucket(self._limits[chat > 0], now)).take(now)

    def hold(self, chat: int, seconds: float, now: float) -> None:
        """Telegram asked to wait: this chat does; all do once it asks so in a second chat meanwhile."""
        if any(until > now for other, until in self._held.items() if other != chat):
            self.hold_all(seconds, now)
        self._held[chat] = max(self._held.get(chat, 0.0), now + seconds)

    def hold_all(self, seconds: float, now: float) -> None:
        """Nothing is sent for so long."""
        self._all_held = max(self._all_held, now + seconds)

    def _forget_idle(self, now: float) -> None:
        self._chats = {chat: bucket for chat, bucket in self._chats.items() if not bucket.full(now)}
        self._held = {chat: until for chat, until in self._held.items() if until > now}
