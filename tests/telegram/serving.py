"""``serve`` as a process of its own, against the stand-in.

With the small conversation of the tests it is forked from a process that has imported everything; any
other command is a new interpreter.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from pathlib import Path

from storage import Store
from tests.forks import FORKS
from tests.telegram.stand_in import PATIENCE, StandIn

ROOT = Path(__file__).parents[2]
#: ``serve`` with a small conversation of the tests, from nothing.
SMALL = ("-m", "tests.telegram.run_serve")
_LOOK_EVERY = 0.02


class Forked:
    """A forked process; can be asked what one of ``asyncio`` can be asked."""

    def __init__(self, environment: dict[str, str], log: Path) -> None:
        self._process = FORKS.Process(target=_run, args=(environment, str(log)), daemon=True)
        self._process.start()
        self.pid = self._process.pid

    @property
    def returncode(self) -> int | None:
        return self._process.exitcode

    async def wait(self) -> int:
        while self.returncode is None:
            await asyncio.sleep(_LOOK_EVERY)
        return self.returncode

    def send_signal(self, number: int) -> None:
        os.kill(self.pid, number)


def _run(environment: dict[str, str], log: str) -> None:
    from tests.telegram.run_serve import main

    os.chdir(ROOT)
    os.environ.clear()
    os.environ.update(environment)
    written = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for stream in (1, 2):
        os.dup2(written, stream)
    sys.exit(main())


class Serving:
    """Starts, stops and kills ``serve``; what it stored and logged can be read afterwards."""

    def __init__(self, api: StandIn, folder: Path, command: tuple[str, ...] | None = None):
        self.api, self.folder, self.command = api, folder, command
        self.url = f"sqlite:///{folder / 'bot.db'}"
        self.flag = folder / "killed"
        self.log = folder / "log"
        self.process: asyncio.subprocess.Process | Forked | None = None

    async def start(self, **more: str) -> None:
        """Starts it; ``more`` are further environment variables."""
        environment = {key: value for key, value in os.environ.items() if not key.startswith("BURROWBELL_")}
        environment |= {
            "BURROWBELL_TOKEN": self.api.token,
            "BURROWBELL_KEEPERS": "7,8,9",
            "BURROWBELL_DATABASE_URL": self.url,
            "BURROWBELL_API_BASE_URL": self.api.url,
            "BURROWBELL_POLL_TIMEOUT": "2",
            "BURROWBELL_WATCH_LISTEN": "",
            "KILL_FLAG": str(self.flag),
        } | more
        if self.command is None:
            self.log.touch()
            self.process = Forked(environment, self.log)
            return
        with self.log.open("a") as log:
            self.process = await asyncio.create_subprocess_exec(
                sys.executable, *self.command, cwd=ROOT, env=environment, stdout=log, stderr=log
            )

    async def ends(self) -> int:
        """Waits until it has ended; its exit status."""
        return await asyncio.wait_for(self.process.wait(), PATIENCE)

    async def stop(self, number: int = signal.SIGTERM) -> int:
        """Asks it to end; its exit status."""
        if self.process and self.process.returncode is None:
            self.process.send_signal(number)
        return await self.ends()

    async def kill(self) -> None:
        """Ends it in the middle of whatever it does."""
        await self.stop(signal.SIGKILL)

    def logged(self) -> str:
        """All that it logged."""
        return self.log.read_text()

    def notes(self) -> list[str]:
        """The notes in the store, in the order of recording."""
        store = Store.open(self.url)
        try:
            with store.look() as work:
                keepers = [work.keepers.by_contact("telegram", user) for user in ("7", "8", "9")]
                shelves = [keeper.shelf_id for keeper in keepers if keeper]
                return [
                    row.entry.note
                    for shelf in shelves
                    for row in work.journal.entries(shelf, newest_first=False)
                ]
        finally:
            store.close()
