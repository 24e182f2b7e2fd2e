"""Growing pauses between tries."""

from __future__ import annotations

from typing import Final

_FIRST_PAUSE: Final = 1.0
_LONGEST_PAUSE: Final = 30.0
_GROWTH: Final = 1.5


class Pauses:
    """Pauses in seconds: the first one a second, each half as long again, up to half a minute."""

    def __init__(self) -> None:
        self._next = _FIRST_PAUSE

    def reset(self) -> None:
        """All is well again."""
        self._next = _FIRST_PAUSE

    def grow(self) -> float:
        """The pause to make now, in seconds; the next will be longer."""
        now = self._next
        self._next = min(_LONGEST_PAUSE, now * _GROWTH)
        return now
