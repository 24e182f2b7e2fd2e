"""A reply as lines of text, or as the JSON object that scripts read."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from bot.conversation.model import Reply

#: How the name of a picture that can be shown ends.
PICTURES: Final = frozenset({".png", ".jpg", ".jpeg"})


def as_text(reply: Reply) -> str:
    """The words, then where pictures lie, then the buttons, numbered, row by row."""
    captions = reply.captions or ("",) * len(reply.pictures)
    lines = [reply.text, *map(_shown, reply.pictures, captions)]
    number = 0
    for row in reply.buttons:
        cells = []
        for button in row:
            number += 1
            cells.append(f"[{number}] {button.label}")
        lines.append("  ".join(cells))
    return "\n".join(line for line in lines if line)


def _shown(path: Path, caption: str) -> str:
    what = "picture" if path.suffix.lower() in PICTURES else "file"
    return f"{what}: {path}" + (f" ({caption})" if caption else "")


def as_json(reply: Reply) -> dict[str, Any]:
    """The reply with ``text``, ``buttons`` (labels, in order) and ``pictures`` (paths)."""
    return {
        "text": reply.text,
        "buttons": [button.label for row in reply.buttons for button in row],
        "pictures": [str(path) for path in reply.pictures],
    }
