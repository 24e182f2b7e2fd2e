"""Turns at what only one thread may use at a time, in the order in which they were asked for."""

from __future__ import annotations

from collections import deque
from threading import Lock
from types import TracebackType


class Turns:
    """A lock that goes to whoever has waited longest.

    Python's own goes to whoever asks first once it is free: that is often the thread that has just let go of
    it, and one that works through a thousand rounds could keep a keeper who writes waiting for all of them.
    Here each waits for those before it alone. Not to be taken twice by one thread.
    """

    def __init__(self) -> None:
        self._guard = Lock()
        self._taken = False
        self._queue: deque[Lock] = deque()

    @property
    def waiting(self) -> int:
        """How many wait for their turn."""
        return len(self._queue)

    def __enter__(self) -> None:
        with self._guard:
            if not self._taken:
                self._taken = True
                return
            turn = Lock()
            turn.acquire()
            self._queue.append(turn)
        try:
            turn.acquire()  # until it is handed over
        except BaseException:
            self._leave(turn)
            raise

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._guard:
            self._hand_over()

    def _leave(self, turn: Lock) -> None:
        """Waits no longer: the program is interrupted."""
        with self._guard:
            if turn in self._queue:
                self._queue.remove(turn)
            else:
                self._hand_over()

    def _hand_over(self) -> None:
        if self._queue:
            self._queue.popleft().release()
        else:
            self._taken = False
