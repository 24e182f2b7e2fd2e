"""A conversation on the invented shelf, in memory."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from storage import Store
from tests.conversation.replay import Player


@pytest.fixture
def store() -> Iterator[Store]:
    found = Store.open("sqlite://")
    yield found
    found.close()


@pytest.fixture
def chat(store) -> Player:
    """The keeper of the invented shelf, Thu 14 May 2026, 19:30."""
    player = Player(store)
    player.settle_in([])
    return player
