"""Replies of the conversation turned into requests to the Bot API, within its limits. Pure.

Texts go out as plain text, without a parse mode: what a keeper wrote can never be taken for markup.
The limits are those of the public Bot API description, by the names ``telegram.constants`` gives them.
"""

from __future__ import annotations

import logging
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from telegram.constants import InlineKeyboardButtonLimit, InlineKeyboardMarkupLimit, MessageLimit

from bot.conversation.model import Button, Reply
from storage.records import Outgoing

_LONGEST: Final = int(MessageLimit.MAX_TEXT_LENGTH)
_CAPTION: Final = int(MessageLimit.CAPTION_LENGTH)
_IN_A_ROW: Final = int(InlineKeyboardMarkupLimit.BUTTONS_PER_ROW)
_BUTTONS: Final = int(InlineKeyboardMarkupLimit.TOTAL_BUTTON_NUMBER)
_DATA_BYTES: Final = int(InlineKeyboardButtonLimit.MAX_CALLBACK_DATA)
_MORE: Final = "…"

_log = logging.getLogger(__name__)

Rows = tuple[tuple[Button, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """One request: a method of the Bot API and its parameters, save the chat, which may yet move.

    ``prompt`` is the number of the stored prompt that the message shows. ``file`` is the file to
    send, and under which parameter. ``traceless``: nothing of it is kept once it is sent. ``or_nothing``: an
    edit that cannot be made is left, and no new message sent.
    """

    method: str
    params: dict[str, Any]
    prompt: int | None = None
    file: tuple[str, str] | None = None
    traceless: bool = False
    or_nothing: bool = False

    def to_json(self) -> dict[str, Any]:
        """The request as the outbox keeps it."""
        kept: dict[str, Any] = {"params": self.params}
        if self.prompt is not None:
            kept["prompt"] = self.prompt
        if self.file:
            kept["file"] = list(self.file)
        if self.traceless:
            kept["traceless"] = True
        if self.or_nothing:
            kept["or_nothing"] = True
        return kept


def requests_for(reply: Reply, *, pressed: int | None = None) -> list[Request]:
    """What to send for a reply. ``pressed`` is the message whose button was pressed, if one was."""
    made = _messages(reply, pressed if reply.edits_pressed else None)
    captions = reply.captions or ("",) * len(reply.pictures)
    return made + [
        _picture(path, caption, quiet=reply.quiet)
        for path, caption in zip(reply.pictures, captions, strict=True)
    ]


def renewal(reply: Reply) -> list[Request]:
    """The edit of an earlier message, which holds what fits into one message."""
    if reply.renews is None:
        return []
    return [replace(edit, or_nothing=True) for edit in _messages(reply, int(reply.renews.reference))[:1]]


def answer_to(callback: str, text: str = "") -> Request:
    """The answer that every button press must get, with a line shown for a moment or without."""
    params: dict[str, Any] = {"callback_query_id": callback}
    return Request(method="answerCallbackQuery", params=params | ({"text": text} if text else {}))


def in_place_of_edit(params: dict[str, Any]) -> dict[str, Any]:
    """The parameters of a new message for an edit that cannot be made."""
    return {key: value for key, value in params.items() if key != "message_id"}


def is_overtaken(row: Outgoing, waiting: Iterable[Outgoing]) -> bool:
    """Whether an edit that may be left need not be made, since a later one of the same message waits."""
    return bool(row.payload.get("or_nothing")) and any(
        other.id > row.id and other.method == row.method and _edited(other) == _edited(row)
        for other in waiting
    )


def _edited(row: Outgoing) -> tuple[str, int]:
    return row.chat, row.payload["params"]["message_id"]


def _messages(reply: Reply, edits: int | None) -> list[Request]:
    texts = split_text(reply.text)
    keyboards = _keyboards(reply.buttons)
    if not texts and keyboards:
        texts = [_MORE]
    texts += [_MORE] * (len(keyboards) - 1)
    first_with_buttons = len(texts) - len(keyboards)
    made = []
    for index, text in enumerate(texts):
        params: dict[str, Any] = {"text": text}
        if index >= first_with_buttons:
            params["reply_markup"] = keyboards[index - first_with_buttons]
        if edits is not None and index == 0:
            method, params = "editMessageText", params | {"message_id": edits}
        else:
            method, params = "sendMessage", params | _sound(reply.quiet)
        shows = reply.number if index == len(texts) - 1 else None
        made.append(Request(method=method, params=params, prompt=shows, traceless=reply.leaves_no_trace))
    return made


def _picture(path: Path, caption: str, *, quiet: bool) -> Request:
    params = _sound(quiet)
    if caption:
        params = params | {"caption": next(iter(split_text(caption, _CAPTION)), "")}
    if path.suffix.lower() in {".png", ".jpg", ".jpeg"}:
        return Request(method="sendPhoto", params=params, file=("photo", str(path)))
    return Request(method="sendDocument", params=params, file=("document", str(path)))


def _sound(quiet: bool) -> dict[str, Any]:
    return {"disable_notification": True} if quiet else {}


def _keyboards(rows: Rows) -> list[dict[str, Any]]:
    """Keyboards of at most a hundred buttons, eight in a row."""
    fitting = [row[at : at + _IN_A_ROW] for row in map(_usable, rows) for at in range(0, len(row), _IN_A_ROW)]
    boards: list[list[Sequence[Button]]] = []
    room = 0
    for row in fitting:
        if len(row) > room:
            boards.append([])
            room = _BUTTONS
        boards[-1].append(row)
        room -= len(row)
    return [{"inline_keyboard": [[_button(button) for button in row] for row in board]} for board in boards]


def _usable(row: Sequence[Button]) -> list[Button]:
    usable = [button for button in row if 1 <= len(button.data.encode()) <= _DATA_BYTES]
    if len(usable) < len(row):
        _log.error("a button was left out: its data does not fit", extra={"buttons": len(row) - len(usable)})
    return usable


def _button(button: Button) -> dict[str, str]:
    return {"text": button.label.strip() or _MORE, "callback_data": button.data}


# --- long texts


def utf16_length(text: str) -> int:
    """The length as Telegram counts it."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


def split_text(text: str, longest: int = _LONGEST) -> list[str]:
    """A text in pieces that each fit a message: cut after a line if possible, else after a word."""
    pieces, rest = [], text.strip()
    while utf16_length(rest) > longest:
        cut = _cut(rest, longest)
        pieces.append(rest[:cut].rstrip())
        rest = rest[cut:].lstrip()
    return [piece for piece in [*pieces, rest] if piece]


def _cut(text: str, longest: int) -> int:
    fits = _fitting(text, longest)
    for separator in ("\n\n", "\n", " "):
        found = text.rfind(separator, fits // 2, fits + 1)
        if found > 0:
            return found
    return fits


def _fitting(text: str, longest: int) -> int:
    """How many characters fit: none is cut in two."""
    used = 0
    for index, letter in enumerate(text):
        used += 2 if letter > "\uffff" else 1
        if used > longest:
            return index
    return len(text)
