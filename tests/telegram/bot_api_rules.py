"""What the Bot API demands of a request, for the stand-in. Pure: method and parameters in, complaint out.

Written after the public description at https://core.telegram.org/bots/api (methods, required
parameters, limits, "Formatting options", "InlineKeyboardMarkup"). Only methods that this bot uses
are known; all others, and parameters not listed, are refused.
"""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Any

INTEGER, TEXT, BOOLEAN, OBJECT, CHAT = "integer", "text", "boolean", "object", "chat"
FILE = "file"
_COMMON = {
    "chat_id": CHAT,
    "message_thread_id": INTEGER,
    "parse_mode": TEXT,
    "disable_notification": BOOLEAN,
    "protect_content": BOOLEAN,
    "reply_parameters": OBJECT,
    "reply_markup": OBJECT,
}
#: method -> (required parameters, optional parameters)
METHODS: dict[str, tuple[dict[str, str], dict[str, str]]] = {
    "getMe": ({}, {}),
    "deleteWebhook": ({}, {"drop_pending_updates": BOOLEAN}),
    "setWebhook": (
        {"url": TEXT},
        {
            "secret_token": TEXT,
            "max_connections": INTEGER,
            "allowed_updates": OBJECT,
            "drop_pending_updates": BOOLEAN,
        },
    ),
    "getUpdates": (
        {},
        {"offset": INTEGER, "limit": INTEGER, "timeout": INTEGER, "allowed_updates": OBJECT},
    ),
    "setMyCommands": ({"commands": OBJECT}, {"scope": OBJECT, "language_code": TEXT}),
    "sendMessage": (
        {"chat_id": CHAT, "text": TEXT},
        _COMMON | {"entities": OBJECT, "link_preview_options": OBJECT},
    ),
    "sendPhoto": ({"chat_id": CHAT, "photo": FILE}, _COMMON | {"caption": TEXT, "caption_entities": OBJECT}),
    "sendDocument": (
        {"chat_id": CHAT, "document": FILE},
        _COMMON | {"caption": TEXT, "caption_entities": OBJECT},
    ),
    "getFile": ({"file_id": TEXT}, {}),
    "editMessageText": (
        {"text": TEXT},
        {
            "chat_id": CHAT,
            "message_id": INTEGER,
            "inline_message_id": TEXT,
            "parse_mode": TEXT,
            "entities": OBJECT,
            "link_preview_options": OBJECT,
            "reply_markup": OBJECT,
        },
    ),
    "answerCallbackQuery": (
        {"callback_query_id": TEXT},
        {"text": TEXT, "show_alert": BOOLEAN, "url": TEXT, "cache_time": INTEGER},
    ),
    "leaveChat": ({"chat_id": CHAT}, {}),
}
_TAGS = {
    "b", "strong", "i", "em", "u", "ins", "s", "strike", "del", "span", "tg-spoiler", "a", "tg-emoji",
    "tg-time", "code", "pre", "blockquote",
}  # fmt: skip
_MARKUP = re.compile(r"<(/?)([a-z-]+)((?:\s+[a-z-]+(?:=\"[^\"<>]*\")?)*)\s*>|<|&(#x?[0-9a-fA-F]+|[a-z]+);|&")


class BadRequestError(Exception):
    """What Telegram would answer with 400; the message is its description."""


def check(method: str, given: dict[str, Any]) -> dict[str, Any]:
    """The parameters, read. Raises :class:`BadRequestError`, or ``KeyError`` for an unknown method."""
    required, optional = METHODS[method]
    known = required | optional
    values = {}
    for name, raw in given.items():
        if name not in known:
            raise BadRequestError(f"Bad Request: parameter {name} is not one of {method}")
        values[name] = _value(name, raw, known[name])
    missing = [name for name in required if values.get(name) in (None, "")]
    if missing:
        raise BadRequestError(f"Bad Request: {missing[0]} is empty")
    _check_texts(method, values)
    if "reply_markup" in values:
        _check_keyboard(values["reply_markup"])
    if method == "setMyCommands":
        _check_commands(values["commands"])
    return values


def _value(name: str, raw: Any, kind: str) -> Any:
    if kind == FILE:
        return raw
    if kind == TEXT:
        return str(raw)
    try:
        value = json.loads(raw) if isinstance(raw, str) else raw
    except ValueError:
        value = raw
    fits = {
        INTEGER: isinstance(value, int) and not isinstance(value, bool),
        BOOLEAN: isinstance(value, bool),
        OBJECT: isinstance(value, dict | list),
        CHAT: isinstance(value, int) or (isinstance(value, str) and value.startswith("@")),
    }
    if not fits[kind]:
        raise BadRequestError(f"Bad Request: parameter {name} is not of type {kind}")
    return value


def length(text: str) -> int:
    """The length as Telegram counts it: UTF-16 code units."""
    return len(text.encode("utf-16-le")) // 2


def _check_texts(method: str, values: dict[str, Any]) -> None:
    mode = values.get("parse_mode")
    if mode not in (None, "HTML"):
        raise BadRequestError("Bad Request: unsupported parse_mode")
    for name, low, high in (("text", 1, 4096), ("caption", 0, 1024)):
        if name not in values or method == "answerCallbackQuery":
            continue
        shown = visible(values[name]) if mode == "HTML" else values[name]
        if length(shown.strip()) < low:
            raise BadRequestError("Bad Request: message text is empty")
        if length(shown) > high:
            raise BadRequestError("Bad Request: message is too long")
    if method == "answerCallbackQuery" and length(values.get("text", "")) > 200:
        raise BadRequestError("Bad Request: MESSAGE_TOO_LONG")


def visible(html: str) -> str:
    """The text that is left after the entities are parsed."""
    open_tags: list[str] = []
    shown, at = [], 0
    for found in _MARKUP.finditer(html):
        shown.append(html[at : found.start()])
        at = found.end()
        closing, tag, _attributes, entity = found.groups()
        if entity:
            if not (entity.startswith("#") or entity in ("lt", "gt", "amp", "quot")):
                raise BadRequestError(f"Bad Request: can't parse entities: unsupported entity &{entity};")
            shown.append(unescape(found[0]))
        elif tag is None:
            raise BadRequestError(f"Bad Request: can't parse entities: stray {found[0]} at {found.start()}")
        elif tag not in _TAGS:
            raise BadRequestError(f'Bad Request: can\'t parse entities: unsupported start tag "{tag}"')
        elif not closing:
            open_tags.append(tag)
        elif not open_tags or open_tags.pop() != tag:
            raise BadRequestError(f'Bad Request: can\'t parse entities: unexpected end tag "{tag}"')
    if open_tags:
        raise BadRequestError(f"Bad Request: can't parse entities: can't find end tag \"{open_tags[-1]}\"")
    return "".join([*shown, html[at:]])


def _check_keyboard(markup: Any) -> None:
    rows = markup.get("inline_keyboard") if isinstance(markup, dict) else None
    if not isinstance(rows, list):
        raise BadRequestError("Bad Request: object expected as reply markup")
    buttons = [button for row in rows for button in row]
    if len(buttons) > 100 or any(len(row) > 8 for row in rows):
        raise BadRequestError("Bad Request: reply markup is too long")
    for button in buttons:
        if set(button) != {"text", "callback_data"} or not isinstance(button["text"], str):
            raise BadRequestError("Bad Request: can't parse inline keyboard button")
        if not button["text"].strip():
            raise BadRequestError("Bad Request: can't parse inline keyboard button: text is empty")
        if not 1 <= len(button["callback_data"].encode()) <= 64:
            raise BadRequestError("Bad Request: BUTTON_DATA_INVALID")


def _check_commands(commands: Any) -> None:
    if not isinstance(commands, list) or len(commands) > 100:
        raise BadRequestError("Bad Request: too many commands")
    for command in commands:
        if not re.fullmatch(r"[a-z0-9_]{1,32}", command.get("command", "")):
            raise BadRequestError("Bad Request: BOT_COMMAND_INVALID")
        if not 1 <= length(command.get("description", "")) <= 256:
            raise BadRequestError("Bad Request: BOT_COMMAND_DESCRIPTION_INVALID")
