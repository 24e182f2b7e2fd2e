"""What an answer of the Bot API to a send means, and what is to be done about it. Pure.

A request whose answer was lost may have been carried out: it is tried once more, later, since a
reply must come at least once; never again after that, since nobody wants it ten times.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import Any, Final

import httpx
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    EndPointNotFound,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
)


class Then(Enum):
    """What to do with the request."""

    DONE = auto()
    LATER = auto()
    ANEW = auto()
    GIVE_UP = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """``seconds`` to wait before trying again. ``blocked``: the person does not want the bot any
    more. ``moved_to``: the chat's new id. ``hold``: Telegram asked to be spared for so long.
    ``offline``: the request did not leave, so nothing else will just now.
    """

    then: Then
    why: str = ""
    seconds: float = 0.0
    blocked: bool = False
    moved_to: int | None = None
    hold: bool = False
    offline: bool = False


#: The reason kept with a request whose answer did not come.
ANSWER_LOST: Final = "the answer was lost"

_NO_CHANGE: Final = ("message is not modified",)
_TOO_LATE: Final = ("query is too old", "query id is invalid")
_NO_EDIT: Final = (
    "message to edit not found",
    "message can't be edited",
    "there is no text in the message",
    "message_id_invalid",
)
_GONE: Final = ("bot was blocked", "user is deactivated", "can't initiate conversation")
_ONCE_MORE_AFTER: Final = 5.0
_MARGIN: Final = 0.5
_LONGEST: Final = 600.0
_MOST_TRIES: Final = 60
"""With pauses that grow to ten minutes: about nine hours of a server that answers with faults."""


def verdict(error: TelegramError, *, tries: int = 0, lost: bool = False, edits: bool = False) -> Verdict:
    """What to do after a request failed.

    ``tries`` are the failures before this one, ``lost`` tells that an answer to it was lost before,
    ``edits`` that it would have changed a message.
    """
    if isinstance(error, BadRequest):  # in the library a kind of NetworkError, which it is not
        return _refused(error, edits=edits)
    if isinstance(error, NetworkError):
        return _network(error, tries, lost=lost)
    if isinstance(error, RetryAfter | ChatMigrated):
        return _told(error)
    if isinstance(error, Forbidden):
        return Verdict(then=Then.GIVE_UP, why="forbidden", blocked=_says(error, _GONE))
    if isinstance(error, InvalidToken | EndPointNotFound | Conflict):
        return Verdict(then=Then.LATER, why="the token is refused", offline=True)
    return _again(tries, "a fault of the server")


def _told(error: RetryAfter | ChatMigrated) -> Verdict:
    if isinstance(error, ChatMigrated):
        return Verdict(then=Then.LATER, why="the group moved", moved_to=error.new_chat_id)
    wait: Any = error.retry_after
    seconds = wait.total_seconds() if hasattr(wait, "total_seconds") else float(wait)
    return Verdict(then=Then.LATER, why="told to wait", seconds=seconds + _MARGIN, hold=True)


def _refused(error: BadRequest, *, edits: bool) -> Verdict:
    if _says(error, _NO_CHANGE + _TOO_LATE):
        return Verdict(then=Then.DONE, why="nothing to do any more")
    if edits and _says(error, _NO_EDIT):
        return Verdict(then=Then.ANEW, why="cannot be edited")
    return Verdict(then=Then.GIVE_UP, why="refused as wrong")


def _network(error: NetworkError, tries: int, *, lost: bool) -> Verdict:
    cause: Any = error.__cause__
    if isinstance(cause, httpx.ConnectError | httpx.ConnectTimeout | httpx.PoolTimeout | httpx.ProxyError):
        return Verdict(then=Then.LATER, why="no connection", offline=True)
    if isinstance(cause, httpx.HTTPError):
        if lost:
            return Verdict(then=Then.GIVE_UP, why="the answer was lost twice")
        return Verdict(then=Then.LATER, why=ANSWER_LOST, seconds=_ONCE_MORE_AFTER)
    return _again(tries, "a fault of the server")


def _again(tries: int, why: str) -> Verdict:
    if tries >= _MOST_TRIES:
        return Verdict(then=Then.GIVE_UP, why=why)
    return Verdict(then=Then.LATER, why=why, seconds=min(_LONGEST, 2.0 ** min(tries, 10)))


def _says(error: TelegramError, parts: tuple[str, ...]) -> bool:
    said = error.message.lower()
    return any(part in said for part in parts)
