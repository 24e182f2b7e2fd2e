"""An album whose caption leads to a question: its photos wait for the answer. All animals are invented."""

from datetime import date

import pytest

from bot.conversation import Conversation
from bot.terms import Specimen
from tests.telegram.test_worker import ADA, Desk, photo


@pytest.fixture
def desk():
    made = Desk()
    made.says("/start")
    with made.store.begin() as work:
        keeper = work.keepers.by_contact("telegram", str(ADA))
        work.keepers.mark_settled(keeper.id)
        change = work.journal.change(keeper.shelf_id, keeper.id, at=made.now, origin=None)
        for tag, name in (("A1", "Pebble"), ("A2", "Rust")):
            animal = Specimen(tag=tag, name=name, species="Brachypelma hamorii")
            work.shelves.add(change, animal, on=date(2025, 1, 1))
    made.worker._talks = Conversation()
    yield made
    made.store.close()


@pytest.mark.parametrize("first", [0, 1])
def test_all_photos_of_an_album_are_attached_once_its_question_is_answered(desk, first):
    album = [photo(f"p{n}", number=20 + n) for n in range(3)]
    album[first]["message"]["caption"] = "molted"
    desk.take(*album)
    assert desk.photos() == []
    desk.says("Pebble")
    assert desk.photos() == ["p0", "p1", "p2"]


def test_photos_behind_a_question_that_was_dropped_are_attached_to_nothing(desk):
    desk.take(photo("p0", number=20, caption="molted"))
    desk.says("cancel")
    desk.take(photo("p1", number=21))
    assert desk.photos() == []
