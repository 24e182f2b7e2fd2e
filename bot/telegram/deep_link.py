"""Deep links: what a label's QR code or an invitation carries into ``/start``.

Telegram passes on at most 64 characters out of A–Z, a–z, 0–9, ``_`` and ``-``. The first letter
tells what the rest is: ``t`` a tag in URL-safe base64 of its UTF-8, ``i`` the code of an invite.
"""

from __future__ import annotations

import base64
import binascii
import re
from dataclasses import dataclass
from typing import Final

_LONGEST: Final = 64
_ALLOWED: Final = re.compile(r"[A-Za-z0-9_-]{1,64}")


@dataclass(frozen=True, slots=True)
class TagLink:
    """The label of an enclosure was scanned."""

    tag: str


@dataclass(frozen=True, slots=True)
class InviteLink:
    """An invitation was opened."""

    code: str


def payload_for_tag(tag: str) -> str:
    """The payload for a label. Raises ``ValueError`` for a tag too long for one (47 bytes of UTF-8)."""
    payload = "t" + base64.urlsafe_b64encode(tag.encode()).decode().rstrip("=")
    if len(payload) > _LONGEST:
        raise ValueError(f"the tag {tag!r} is too long for a label's link")
    return payload


def payload_for_invite(code: str) -> str:
    """The payload for an invitation whose code is URL-safe."""
    return "i" + code


def link(bot: str, payload: str) -> str:
    """The address that opens the chat with a bot, given its user name, and hands it a payload."""
    return f"https://t.me/{bot}?start={payload}"


def what_is_asked(payload: str) -> TagLink | InviteLink | None:
    """What a payload stands for, or ``None`` if it is none of ours."""
    if not _ALLOWED.fullmatch(payload):
        return None
    mark, rest = payload[0], payload[1:]
    if mark == "i" and rest:
        return InviteLink(rest)
    return _tag(rest) if mark == "t" and rest else None


def _tag(encoded: str) -> TagLink | None:
    try:
        padded = encoded + "=" * (-len(encoded) % 4)
        tag = base64.b64decode(padded, altchars=b"-_", validate=True).decode()
    except (binascii.Error, UnicodeDecodeError):
        return None
    return TagLink(tag) if tag.isprintable() else None
