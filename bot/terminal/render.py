"""A reply as lines of text, or as the JSON object that scripts read."""

from __future__ import annotations

from typing import Any

from bot.conversation.model import Reply


def as_text(reply: Reply) -> str:
    """The words, then where pictures lie, then the buttons, numbered, row by row."""
    lines = [reply.text, *(f"picture: {path}" for path in reply.pictures)]
    number = 0
    for row in reply.buttons:
        cells = []
        for button in row:
            number += 1
            cells.append(f"[{number}] {button.label}")
        lines.append("  ".join(cells))
    return "\n".join(line for line in lines if line)


def as_json(reply: Reply) -> dict[str, Any]:
    """The reply with ``text``, ``buttons`` (labels, in order) and ``pictures`` (paths)."""
    return {
        "text": reply.text,
        "buttons": [button.label for row in reply.buttons for button in row],
        "pictures": [str(path) for path in reply.pictures],
    }
