"""Invitations: codes that let one person in, once.

Guessing is hopeless and slowed down besides: a person has few tries an hour, and so have all strangers
together.
"""

from __future__ import annotations

from collections import deque
from datetime import datetime, timedelta
from typing import Final

HOLDS_FOR: Final = timedelta(days=2)
#: So many invitations of one keeper may be open at once.
MOST_OPEN: Final = 20
_HOUR: Final = timedelta(hours=1)
_TRIES_OF_ONE: Final = 5
_TRIES_OF_ALL: Final = 60


class Tries:
    """How often codes were tried in the last hour, by one person and by all."""

    def __init__(self) -> None:
        self._tries: deque[tuple[datetime, int]] = deque()

    def one_more(self, person: int, at: datetime) -> bool:
        """Counts a try. False where it is one too many."""
        while self._tries and self._tries[0][0] <= at - _HOUR:
            self._tries.popleft()
        own = sum(who == person for _, who in self._tries)
        if own >= _TRIES_OF_ONE or len(self._tries) >= _TRIES_OF_ALL:
            return False
        self._tries.append((at, person))
        return True
