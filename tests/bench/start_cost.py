"""How long a start takes, and how much memory ``serve`` holds."""

from __future__ import annotations

import asyncio
import fcntl
import os
import pty
import select
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
from collections.abc import Iterator
from pathlib import Path

from storage import Store
from tests.bench.timing import Line, shown
from tests.telegram.serving import Serving
from tests.telegram.stand_in import StandIn

_ROOT = Path(__file__).parents[2]
_PROMPT_LIMIT_S = 2.0
_MEMORY_LIMIT_MB = 130
#: The line editor is ready, and has drawn its prompt.
_READY, _PROMPT = b"\x1b[?2004h", b">"
_CURSOR_ASKED, _CURSOR_TOLD = b"\x1b[6n", b"\x1b[1;1R"


def lines() -> Iterator[Line]:
    """Start of Python, of ``read`` and ``chat``, and the memory of ``serve`` after some messages."""
    python = statistics.median(_run([sys.executable, "-c", "pass"]) for _ in range(3))
    yield Line(what="start Python alone", figure=shown(python))
    helped = statistics.median(_run([sys.executable, "-m", "bot", "--help"]) for _ in range(3))
    yield Line(what="burrowbell --help", figure=shown(helped), ratio=helped / python)
    prompt = statistics.median(_to_prompt() for _ in range(3))
    yield Line(
        what="chat --demo, to its prompt",
        figure=shown(prompt),
        ratio=prompt / python,
        limit=f"<= {_PROMPT_LIMIT_S:.0f} s",
        kept=prompt <= _PROMPT_LIMIT_S,
    )
    memory = asyncio.run(_memory_of_serve())
    yield Line(
        what="serve, resident memory after 30 messages",
        figure=f"{memory:.0f} MB",
        limit=f"< {_MEMORY_LIMIT_MB} MB",
        kept=memory < _MEMORY_LIMIT_MB,
    )
    first = asyncio.run(_memory_of_serve(first_start=True))
    yield Line(what="  where it made the tables itself", figure=f"{first:.0f} MB")


def _run(command: list[str]) -> float:
    start = time.perf_counter()
    subprocess.run(command, cwd=_ROOT, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def _to_prompt() -> float:
    """Seconds from the call of ``chat --demo`` to its prompt on a terminal of its own."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 100, 0, 0))
    start = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "bot", "chat", "--demo"],
        cwd=_ROOT,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=os.environ | {"TERM": "xterm"},
    )
    os.close(theirs)
    try:
        seen = b""
        while _PROMPT not in seen.partition(_READY)[2]:
            if not select.select([ours], [], [], 30)[0]:
                raise TimeoutError(f"no prompt within 30 s; seen: {seen[-300:]!r}")
            seen += os.read(ours, 65536)
            if _CURSOR_ASKED in seen:
                os.write(ours, _CURSOR_TOLD)
                seen = seen.replace(_CURSOR_ASKED, b"")
        taken = time.perf_counter() - start
        os.write(ours, b"\x04")
        return taken
    finally:
        _drain(ours)
        process.terminate()
        process.wait(10)
        os.close(ours)


def _drain(terminal: int) -> None:
    try:
        while select.select([terminal], [], [], 1)[0] and os.read(terminal, 65536):
            pass
    except OSError:
        pass  # the other end is closed, as it should be


async def _memory_of_serve(*, first_start: bool = False) -> float:
    """What it holds on a store that is there, as on every start but the first, which loads the migrations."""
    with tempfile.TemporaryDirectory() as folder:
        async with StandIn() as api:
            serving = Serving(api, Path(folder), ("-m", "bot", "serve"))
            if not first_start:
                Store.open(serving.url).close()
            await serving.start()
            try:
                for number in range(30):
                    api.says(f"room at {20 + number % 8} °C and 60 %")
                    await asyncio.sleep(0.05)
                await api.until(lambda: len(api.texts()) >= 30)
                return _resident_mb(serving.process.pid)
            finally:
                await serving.stop()


def _resident_mb(process: int) -> float:
    status = Path(f"/proc/{process}/status").read_text()
    kilobytes = next(line.split()[1] for line in status.splitlines() if line.startswith("VmRSS:"))
    return int(kilobytes) / 1024
