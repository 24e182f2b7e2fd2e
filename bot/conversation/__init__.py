"""Message in, replies out, for any front end: log, ask, answer, amend, remind, hand over."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bot.conversation.talk import Conversation

__all__ = ["Conversation"]


def __getattr__(name: str) -> Any:
    """The conversation itself comes when it is asked for: front ends need its values long before it."""
    if name == "Conversation":
        from bot.conversation.talk import Conversation  # noqa: PLC0415

        return Conversation
    raise AttributeError(name)
