"""The prompt in a terminal: a line editor with history, replies drawn lightly."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from prompt_toolkit import PromptSession
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from rich.console import Console
from rich.text import Text

from bot.conversation.model import Reply
from bot.terminal.render import PICTURES, as_text
from bot.terminal.talk import Talk


def history_in(file: Path | None) -> History:
    """A history that is kept in a file of the keeper's own, or forgotten at the end."""
    if file is None:
        return InMemoryHistory()
    file.parent.mkdir(parents=True, exist_ok=True)
    file.touch(mode=0o600, exist_ok=True)
    return FileHistory(str(file))


def converse(talk: Talk, opening: Callable[[], Iterable[Reply]], *, history: History) -> None:
    """Shows the opening, then answers line by line until Ctrl-D."""
    console = Console(highlight=False)
    session: PromptSession[str] = PromptSession(history=history)
    _draw(console, opening())
    while True:
        try:
            line = session.prompt("> ")
        except KeyboardInterrupt:
            continue
        except EOFError:
            return
        if line.strip():
            _draw(console, talk.say(line))


def _draw(console: Console, replies: Iterable[Reply], environment: Mapping[str, str] = os.environ) -> None:
    for reply in replies:
        _show_pictures(console, reply, environment)
        drawn = Text(as_text(reply))
        drawn.highlight_regex(r"(?m)(?<![^\s])\[\d+\](?= \S)", "bold cyan")
        console.print(drawn)
        console.print()


def _show_pictures(console: Console, reply: Reply, environment: Mapping[str, str]) -> None:
    """The pictures of a reply in the terminal itself, where it can show them."""
    if not (reply.pictures and console.is_terminal):
        return
    from bot.terminal.inline import drawn, protocol_of  # noqa: PLC0415  Pillow costs; few replies are pictures

    protocol = protocol_of(environment)
    if protocol is None:
        return
    for file in reply.pictures:
        if file.suffix.lower() in PICTURES and (shown := drawn(file, protocol)) is not None:
            console.file.write(shown)
    console.file.flush()
