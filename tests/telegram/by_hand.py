"""The bot's Telegram front end at a keyboard: ``python -m tests.telegram.by_hand``.

Starts the stand-in and ``serve`` with a throw-away store. Lines are sent as a keeper; ``#2`` presses
the second button of the last message that has any. The end of input ends it.
"""

from __future__ import annotations

import asyncio
import sys
import tempfile
from pathlib import Path

from tests.telegram.serving import Serving
from tests.telegram.stand_in import Shown, StandIn

REAL = ("-m", "bot", "serve")


async def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        async with StandIn() as api:
            serving = Serving(api, Path(folder), REAL)
            await serving.start()
            showing = asyncio.create_task(show(api))
            while line := await asyncio.to_thread(sys.stdin.readline):
                send(api, line.strip())
            await asyncio.sleep(2)
            showing.cancel()
            await serving.stop()
            sys.stdout.write(serving.logged())


def send(api: StandIn, line: str) -> None:
    labels, shown = last_buttons(api)
    if line.startswith("#") and line[1:].isdigit() and shown and int(line[1:]) <= len(labels):
        api.presses(shown, labels[int(line[1:]) - 1])
    elif line:
        api.says(line)


def last_buttons(api: StandIn) -> tuple[list[str], Shown | None]:
    shown = next((s for s in reversed(api.seen()) if s.keyboard), None)
    return [button["text"] for row in shown.keyboard for button in row] if shown else [], shown


async def show(api: StandIn) -> None:
    """Prints every message of the bot when it comes and when it changes."""
    seen: dict[int, tuple[str, int]] = {}
    while True:
        for shown in api.seen():
            if seen.get(shown.number) != (shown.text, shown.edits):
                seen[shown.number] = (shown.text, shown.edits)
                labels = "  ".join(f"[{b['text']}]" for row in shown.keyboard for b in row)
                sys.stdout.write(f"\n{shown.text}\n{labels}\n")
        sys.stdout.flush()
        await asyncio.sleep(0.05)


if __name__ == "__main__":
    asyncio.run(main())
