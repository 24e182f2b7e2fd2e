"""Whom words call together that say nothing else: "the slings", "GBBs", "the females on shelf A". Pure."""

from __future__ import annotations

from datetime import datetime

from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import ShelfNames
from bot.terms import KeeperSettings


def group_alone(words: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> tuple[str, ...]:
    """The animals that words surely call by what they have in common; empty where they say anything else."""
    message = Message(words, names, now, settings, None)
    items = message.items([range(len(message.tokens))]) if message.tokens else []
    if len(items) != 1 or items[0].cat != "S" or not items[0].val.sure:
        return ()
    return tuple(items[0].val.tags)
