"""Invented stores with many keepers, for measuring: each keeper has the same animals and journal."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache

from bot.demo.shelf import crowd
from bot.demo.simulator import journal_of
from bot.terms import KeeperSettings
from storage import Store
from storage.bulk import fill

#: The first keeper's chat; the others' follow.
FIRST_CHAT = 1000


#: How many animals a keeper has, where it is not the number of animals that is looked at.
ANIMALS = 20


def put_in(store: Store, keepers: int, animals: int = ANIMALS, *, days: int, at: datetime) -> list[int]:
    """Keepers whose rounds fall due at a moment, with animals and so many days of entries; their numbers."""
    residents = crowd(animals, seed=3)
    journal = list(journal_of(residents, seed=3, end=at.date(), days=days))
    specimens = [resident.specimen for resident in residents]
    numbers = []
    for number in range(keepers):
        with store.begin() as work:
            keeper = work.keepers.create(
                f"keeper {number}", KeeperSettings(zone="UTC"), at=at - timedelta(days=days + 8)
            )
            work.keepers.link(keeper.id, "telegram", str(FIRST_CHAT + number))
            fill(work, keeper.shelf_id, keeper.id, specimens, journal, at=at - timedelta(days=1), zone="UTC")
            work.keepers.set_next_round(keeper.id, at)
        numbers.append(keeper.id)
    return numbers


def update(number: int, chat: int, text: str, at: datetime) -> dict:
    """A message as Telegram delivers it."""
    who = {"id": chat, "is_bot": False, "first_name": "Kim"}
    return {
        "update_id": number,
        "message": {
            "message_id": number,
            "date": int(at.timestamp()),
            "chat": {"id": chat, "type": "private"},
            "from": who,
            "text": text,
        },
    }


def meal(number: int) -> str:
    """A message that stores an entry: about each of the named animals of :func:`put_in` in turn."""
    names = _names()
    return f"{names[number % len(names)]} took two crickets yesterday"


@cache
def _names() -> list[str]:
    return [resident.specimen.name for resident in crowd(ANIMALS, seed=3) if resident.specimen.name]
