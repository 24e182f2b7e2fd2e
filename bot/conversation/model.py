"""What passes between a front end and the conversation."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture that came with a message: the front end's own reference to it, and its size."""

    reference: str
    width: int | None = None
    height: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Incoming:
    """One message or button press of a keeper.

    ``sent_at`` is when the keeper sent it (aware, UTC): the base for "today", however late it
    arrives. ``reference`` is the front end's id of the message, ``edits`` tells that it replaces
    the message of that reference, ``reply_to`` the reference of the message it answers.
    ``private`` tells that nobody else reads along in the chat, ``pressed`` is the data of a pressed
    button. ``unsupported`` names what came in place of text or a photo (``sticker``, ``voice``).
    """

    sent_at: datetime
    text: str = ""
    pressed: str | None = None
    reference: str | None = None
    edits: bool = False
    reply_to: str | None = None
    photos: tuple[Photo, ...] = ()
    unsupported: str | None = None
    private: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Button:
    """A button under a reply. ``data`` is short and opaque: at most 64 bytes, no names in it."""

    label: str
    data: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownMessage:
    """A message that was sent before: its chat, the front end's reference to it, and the keeper it is for."""

    chat: str
    reference: str
    keeper_id: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """One message to the keeper, in plain text (a front end escapes what it must).

    ``captions`` are words for each of the pictures, where they are not all said by the text.
    ``edits_pressed`` asks the front end to replace the message whose button was pressed in place
    of sending a new one, where it can. ``quiet`` asks for no sound. ``number`` is the stored
    prompt that the buttons belong to, so that the front end can note which message shows it.
    ``renews`` is the message, here or in another chat, that it replaces and without which it is not sent.
    ``leaves_no_trace`` asks the front end to keep nothing of the reply once it is sent.
    """

    text: str
    buttons: tuple[tuple[Button, ...], ...] = ()
    pictures: tuple[Path, ...] = ()
    captions: tuple[str, ...] = ()
    edits_pressed: bool = False
    quiet: bool = False
    number: int | None = None
    renews: ShownMessage | None = None
    leaves_no_trace: bool = False
