"""The Telegram front end: updates in, requests out; no husbandry."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bot.telegram.service import serve

__all__ = ["serve"]


def __getattr__(name: str) -> Any:
    """``serve`` when it is first asked for: it brings the Telegram library, which links do not need."""
    if name == "serve":
        return import_module("bot.telegram.service").serve
    raise AttributeError(name)
