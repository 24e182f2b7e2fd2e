"""The Telegram front end: updates in, requests out; no husbandry."""

import sys
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from bot.telegram.service import serve

__all__ = ["serve"]

# httpx, under the Telegram library, brings a command line of its own with all that draws it, wherever that
# is installed; it does without where it cannot be imported. That is three megabytes of a small board.
sys.modules.setdefault("httpx._main", None)  # type: ignore[arg-type]


def __getattr__(name: str) -> Any:
    """``serve`` when it is first asked for: it brings the Telegram library, which links do not need."""
    if name == "serve":
        return import_module("bot.telegram.service").serve
    raise AttributeError(name)
