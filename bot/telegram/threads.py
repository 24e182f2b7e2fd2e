"""The store is asked in threads, so that the loop which talks to Telegram never waits for a disk."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from threading import Thread
from typing import Final, TypeVar, cast

_Result = TypeVar("_Result")
_AT_ONCE: Final = 4


class Threads:
    """A few threads for what blocks."""

    def __init__(self) -> None:
        self._pool = ThreadPoolExecutor(_AT_ONCE, thread_name_prefix="store")

    async def run(self, step: Callable[[], _Result]) -> _Result:
        """What a blocking step gives. Once begun, a step runs to its end, even if nobody waits any more."""
        return await asyncio.get_running_loop().run_in_executor(self._pool, step)

    async def run_aside(self, step: Callable[[], _Result]) -> _Result:
        """What a long step gives, in a thread of its own that a stop does not wait for.

        For steps that leave nothing half done wherever they end.
        """
        loop = asyncio.get_running_loop()
        done: asyncio.Future[_Result] = loop.create_future()

        def settle(result: _Result | None, fault: BaseException | None) -> None:
            if done.done():
                return
            if fault is None:
                done.set_result(cast(_Result, result))
            else:
                done.set_exception(fault)

        def run() -> None:
            try:
                outcome: tuple[_Result | None, BaseException | None] = (step(), None)
            except BaseException as fault:
                outcome = (None, fault)
            with suppress(RuntimeError):  # the loop has stopped meanwhile, and nobody asks any more
                loop.call_soon_threadsafe(settle, *outcome)

        Thread(target=run, name="aside", daemon=True).start()
        return await done

    def close(self) -> None:
        """Waits for the steps that have begun."""
        self._pool.shutdown(wait=True, cancel_futures=True)
