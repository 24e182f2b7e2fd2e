"""An update of Telegram, as its JSON, turned into what was heard. Pure: no store, no network, no clock.

The fields are those of the public Bot API description. Only what is needed is looked at, so that a
field that Telegram adds or changes elsewhere does not matter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Final

from bot.conversation.model import Incoming, Photo
from bot.telegram import menu

Json = Mapping[str, Any]


class UnreadableUpdateError(ValueError):
    """An update that is not built as the Bot API describes it; the message says which part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Me:
    """The bot's own account."""

    id: int
    username: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Who wrote or pressed: Telegram's user id, and the name that the person chose there."""

    id: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A message or a button press. ``chat`` is negative for a group.

    ``command`` is set where the message is a command that only the front end answers. ``callback``
    is the id of the query to answer where a button was pressed, ``shown`` the id of the message
    that carries the button. ``album`` ties the photos of one sending together. ``mine`` tells that
    the message is for the bot: always so in a private chat, in a group only where it names the
    bot, answers it, or presses its button.
    """

    chat: int
    private: bool
    person: Person
    incoming: Incoming
    mine: bool = True
    command: menu.Called | None = None
    callback: str | None = None
    shown: int | None = None
    album: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The bot was blocked or unblocked by a person, or put out of or into a group."""

    chat: int
    private: bool
    person: Person
    present: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A group became a supergroup, and its chat id another."""

    old: int
    new: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """Nothing to act on. ``callback`` is a query that has to be answered all the same."""

    why: str
    callback: str | None = None


What = Heard | Standing | Moved | Passed

ALLOWED_UPDATES: Final = ("message", "edited_message", "callback_query", "my_chat_member")

#: What may come in place of text or a photo, and what it is called in a sentence.
_UNSUPPORTED: Final = {
    "sticker": "sticker",
    "voice": "voice message",
    "video_note": "video message",
    "video": "video",
    "animation": "animation",
    "audio": "sound file",
    "document": "file",
    "location": "location",
    "venue": "location",
    "contact": "contact",
    "poll": "poll",
    "dice": "dice",
    "game": "game",
    "story": "story",
    "paid_media": "paid picture",
    "checklist": "checklist",
}
_MIGRATIONS: Final = ("migrate_to_chat_id", "migrate_from_chat_id")
_FRONT_END_COMMANDS: Final = (menu.START, menu.INVITE)
#: Telegram's names have at most 64 letters each, first and last; who sends more is not Telegram.
_LONGEST_NAME: Final = 129
_ABSENT: Final = ("left", "kicked")


def translate(update: Json, *, received_at: datetime, me: Me) -> What:
    """What an update says. ``received_at`` (aware) stands for the time of a button press, which has none.

    Raises :class:`UnreadableUpdateError` where a needed part is missing or of the wrong kind.
    """
    for kind, part in _KINDS.items():
        if kind in update:
            return part(_mapping(update, kind), received_at, me)
    return Passed(why="kind of update not asked for")


def chat_of(update: Any) -> int:
    """The chat that an update belongs to, as far as can be told: 0 where it cannot."""
    if isinstance(update, Mapping):
        for kind in _KINDS:
            part = update.get(kind)
            holder = part.get("message", part) if isinstance(part, Mapping) else None
            chat = holder.get("chat") if isinstance(holder, Mapping) else None
            number = chat.get("id") if isinstance(chat, Mapping) else None
            if isinstance(number, int):
                return number
    return 0


def writer_of(update: Any) -> str | None:
    """Who wrote or pressed, by the address under which a keeper is known; ``None`` where that is not told."""
    parts = [update.get(kind) for kind in _KINDS] if isinstance(update, Mapping) else []
    people = [_maybe(part, "from").get("id") for part in parts if isinstance(part, Mapping)]
    return next((str(number) for number in people if isinstance(number, int)), None)


# --- the kinds of update


def _message(message: Json, _received_at: datetime, me: Me) -> What:
    return _heard(message, me, edits=False)


def _edited(message: Json, _received_at: datetime, me: Me) -> What:
    return _heard(message, me, edits=True)


def _pressed(query: Json, received_at: datetime, me: Me) -> What:
    callback = _of(query, "id", str)
    shown = query.get("message")
    if not isinstance(shown, Mapping) or not isinstance(query.get("data"), str):
        return Passed(why="a button without message or data", callback=callback)
    chat, message_id = _mapping(shown, "chat"), _of(shown, "message_id", int)
    return Heard(
        chat=_of(chat, "id", int),
        private=chat.get("type") == "private",
        person=_person(query),
        incoming=Incoming(
            sent_at=received_at,
            pressed=query["data"],
            reference=f"press-{callback}",
            reply_to=str(message_id),
            private=chat.get("type") == "private",
        ),
        callback=callback,
        shown=message_id,
    )


def _membership(change: Json, _received_at: datetime, _me: Me) -> What:
    chat, member = _mapping(change, "chat"), _mapping(change, "new_chat_member")
    status = _of(member, "status", str)
    return Standing(
        chat=_of(chat, "id", int),
        private=chat.get("type") == "private",
        person=_person(change),
        present=status not in _ABSENT,
    )


_KINDS: Final[Mapping[str, Callable[[Json, datetime, Me], What]]] = {
    "message": _message,
    "edited_message": _edited,
    "callback_query": _pressed,
    "my_chat_member": _membership,
}


# --- messages


def _heard(message: Json, me: Me, *, edits: bool) -> What:
    chat = _mapping(message, "chat")
    number, private = _of(chat, "id", int), chat.get("type") == "private"
    if moved := _moved(message, number):
        return moved
    if "from" not in message or message.get("sender_chat") or _maybe(message, "from").get("is_bot"):
        return Passed(why="not written by a person")
    text, photos, unsupported = _content(message)
    if not (text or photos or unsupported):
        return Passed(why="a service message")
    words, named = _without_mention(text, me)
    command = menu.called(words)
    if command and command.bot and command.bot.lower() != me.username.lower():
        return Passed(why="a command for another bot")
    if command and (edits or command.name not in _FRONT_END_COMMANDS):
        words, command, named = menu.plain_words(command), None, True
    incoming = Incoming(
        sent_at=_moment(message),
        text=words,
        reference=str(_of(message, "message_id", int)),
        edits=edits,
        reply_to=_reply_to(message),
        photos=photos,
        unsupported=unsupported,
        private=private,
    )
    album = message.get("media_group_id")
    return Heard(
        chat=number,
        private=private,
        person=_person(message),
        incoming=incoming,
        mine=private or named or command is not None or _answers(message, me),
        command=command,
        album=album if isinstance(album, str) else None,
    )


def _moved(message: Json, chat: int) -> Moved | None:
    to, came_from = (message.get(key) for key in _MIGRATIONS)
    if isinstance(to, int):
        return Moved(old=chat, new=to)
    return Moved(old=came_from, new=chat) if isinstance(came_from, int) else None


def _content(message: Json) -> tuple[str, tuple[Photo, ...], str | None]:
    """The words, the photo, and what came in place of both."""
    if message.get("forward_origin"):
        # somebody else's words, or words of another day: not a statement about the shelf today
        return "", (), "forwarded message"
    text = message.get("text") or message.get("caption") or ""
    if not isinstance(text, str):
        raise UnreadableUpdateError("text: not a string")
    text = _storable(text)
    photos = _photos(message)
    if text or photos:
        return text, photos, None
    return "", (), next((name for key, name in _UNSUPPORTED.items() if key in message), None)


def _photos(message: Json) -> tuple[Photo, ...]:
    """The photo in its largest size; also a picture that was sent as a file."""
    sizes = message.get("photo")
    if isinstance(sizes, list):
        photos = [_photo(size) for size in sizes if isinstance(size, Mapping)]
        return tuple(sorted(photos, key=lambda photo: (photo.width or 0) * (photo.height or 0))[-1:])
    file = _maybe(message, "document")
    return (_photo(file),) if str(file.get("mime_type", "")).startswith("image/") else ()


def _photo(size: Json) -> Photo:
    width, height = (size.get(side) for side in ("width", "height"))
    return Photo(
        reference=_of(size, "file_id", str),
        width=width if isinstance(width, int) else None,
        height=height if isinstance(height, int) else None,
    )


def _reply_to(message: Json) -> str | None:
    answered = _maybe(message, "reply_to_message")
    return str(_of(answered, "message_id", int)) if answered else None


def _answers(message: Json, me: Me) -> bool:
    return _maybe(_maybe(message, "reply_to_message"), "from").get("id") == me.id


def _without_mention(text: str, me: Me) -> tuple[str, bool]:
    """The text without the bot's name at either end, and whether it was named at all."""
    mention = rf"@{re.escape(me.username)}\b"
    words = re.sub(rf"^\s*{mention}[\s,:]*|[\s,]*{mention}\s*$", "", text, flags=re.I)
    return words, re.search(mention, text, flags=re.I) is not None


# --- parts


def _person(holder: Json) -> Person:
    user = _mapping(holder, "from")
    names = (user.get("first_name"), user.get("last_name"))
    name = " ".join(name for name in names if name and isinstance(name, str))
    return Person(id=_of(user, "id", int), name=_storable(name)[:_LONGEST_NAME].strip() or "keeper")


def _moment(message: Json) -> datetime:
    try:
        return datetime.fromtimestamp(_of(message, "date", int), UTC)
    except (ValueError, OverflowError, OSError):
        raise UnreadableUpdateError("date: not a moment of our calendar") from None


def _storable(text: str) -> str:
    """The text without what no database takes: halves of surrogate pairs and the character NUL."""
    whole = text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")
    return whole.replace("\0", "")


def _mapping(holder: Json, key: str) -> Json:
    value = holder.get(key)
    if not isinstance(value, Mapping):
        raise UnreadableUpdateError(f"{key}: missing or not an object")
    return value


def _maybe(holder: Json, key: str) -> Json:
    value = holder.get(key)
    return value if isinstance(value, Mapping) else {}


def _of(holder: Json, key: str, kind: type) -> Any:
    value = holder.get(key)
    if not isinstance(value, kind) or isinstance(value, bool):
        raise UnreadableUpdateError(f"{key}: missing or not of kind {kind.__name__}")
    return value
