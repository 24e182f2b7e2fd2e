"""The store is asked in threads, so that the loop which talks to Telegram never waits for a disk."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Final, TypeVar

_Result = TypeVar("_Result")
_AT_ONCE: Final = 4


class Threads:
    """A few threads for what blocks."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(_AT_ONCE, thread_name_prefix="store")

    async def run(self, step: Callable[[], _Result]) -> _Result:
        """What a blocking step gives. Once begun, a step runs to its end, even if nobody waits any more."""
        return await asyncio.get_running_loop().run_in_executor(self._pool, step)

    def close(self) -> None:
        """Waits for the steps that have begun."""
        self._pool.shutdown(wait=True, cancel_futures=True)
