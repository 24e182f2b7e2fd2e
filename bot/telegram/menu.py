"""The commands in Telegram's menu, and the plain words that each stands for in the conversation."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Command:
    """A command without arguments: its name, the line in the menu, the words that it stands for."""

    name: str
    description: str
    words: str


START: Final = "start"
INVITE: Final = "invite"

#: Commands that only Telegram has have no words: admission answers them.
COMMANDS: Final = (
    Command("round", "What is to be done today", "what is due today?"),
    Command("undo", "Take back the last thing you told me", "undo"),
    Command("help", "What you can write to me", "help"),
    Command("settings", "Time zone, units, time of the round", "settings"),
    Command(INVITE, "A link that lets one more person share your shelf", ""),
)

_WORDS: Final = {command.name: command.words for command in COMMANDS if command.words}
_COMMAND: Final = re.compile(
    r"/(?P<name>[A-Za-z0-9_]{1,32})(?:@(?P<bot>[A-Za-z0-9_]+))?(?P<rest>\s.*)?", re.DOTALL
)


@dataclass(frozen=True, slots=True)
class Called:
    """A command as it was written: its name in small letters, the bot it names, what follows it."""

    name: str
    bot: str | None
    rest: str


def called(text: str) -> Called | None:
    """The command that a message begins with, or ``None``."""
    found = _COMMAND.fullmatch(text)
    if found is None:
        return None
    return Called(found["name"].lower(), found["bot"], (found["rest"] or "").strip())


def plain_words(command: Called) -> str:
    """What a command says in plain words; a command of no menu is read as the words it is made of."""
    words = _WORDS.get(command.name, command.name.replace("_", " "))
    return f"{words} {command.rest}".strip()


def for_telegram() -> list[dict[str, str]]:
    """The menu as ``setMyCommands`` takes it."""
    return [{"command": command.name, "description": command.description} for command in COMMANDS]
