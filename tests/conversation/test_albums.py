"""Photos of an animal, asked for in the chat, with their days and molts."""

from __future__ import annotations

import pytest
from PIL import Image

from bot.conversation.model import Incoming
from storage import Store
from tests.conversation.given import at
from tests.conversation.replay import Player


@pytest.fixture
def store(tmp_path):
    found = Store.open(f"sqlite:///{tmp_path / 'store.db'}")
    yield found
    found.close()


@pytest.fixture
def chat(store):
    player = Player(store)
    player.settle_in([])
    return player


def fetched(chat):
    """What the front end does afterwards: every photo gets its file."""
    with chat.store.begin() as work:
        for photo in work.photos.not_yet_kept(99):
            path = work.album.path_for(photo.shelf_id, photo.id)
            file = work.album.write(path, b"")
            Image.new("RGB", (8, 6)).save(file, "JPEG")
            work.photos.kept(photo.id, path, (8, 6))


def with_photo(chat, caption, on):
    chat.now = f"{on} 19:30"
    return chat.told(f"[photo] {caption}")


@pytest.fixture
def lived(chat):
    """Photos of Pebble before and after two molts, and one of Rust."""
    with_photo(chat, "Pebble", "2026-01-10")
    with_photo(chat, "Pebble molted", "2026-02-01")
    with_photo(chat, "Pebble", "2026-03-05")
    with_photo(chat, "Rust", "2026-04-01")
    with_photo(chat, "Pebble molted today", "2026-04-20")
    with_photo(chat, "photo of Pebble", "2026-05-02")
    chat.now = "2026-05-14 19:30"
    fetched(chat)
    return chat


def shown(chat):
    return [caption for reply in chat.shown[-2:] for caption in reply.captions]


def test_photos_come_newest_first_with_their_days_and_the_molt_before(lived):
    said = lived.told("photos of Pebble")
    assert "5 photos of Pebble (A1), the newest first." in said
    assert shown(lived) == [
        "Pebble (A1), Sat 2 May, 12 days ago, 12 days after the molt of Mon 20 Apr",
        "Pebble (A1), Mon 20 Apr, 24 days ago, the day of a molt",
        "Pebble (A1), Thu 5 Mar, 70 days ago, 32 days after the molt of Sun 1 Feb",
        "Pebble (A1), Sun 1 Feb, 102 days ago, the day of a molt",
        "Pebble (A1), Sat 10 Jan, 124 days ago",
    ]
    pictures = [file for reply in lived.shown[-2:] for file in reply.pictures]
    assert len(pictures) == 5
    assert all(file.exists() for file in pictures)


@pytest.mark.parametrize(
    ("asked", "days"),
    [
        ("photos of Pebble before the last molt", ["5 Mar", "1 Feb", "10 Jan"]),
        ("show me the pics of Pebble since her last molt", ["2 May", "20 Apr"]),
        ("photos of A1 after the last moult", ["2 May", "20 Apr"]),
        ("photos of Pebble before March", ["1 Feb", "10 Jan"]),
        ("photos of Pebble since April", ["2 May", "20 Apr"]),
        ("photos of Pebble in March", ["5 Mar"]),
        ("photos of Pebble from last month", ["2 May", "20 Apr"]),
        ("photos of Pebble last month", ["20 Apr"]),
        ("any photos of Rust?", ["1 Apr"]),
        ("Rust pics", ["1 Apr"]),
        ("photos of the shelf since April", ["2 May", "20 Apr", "1 Apr"]),
    ],
)
def test_a_time_may_be_said(lived, asked, days):
    lived.told(asked)
    found = [caption.split(", ")[1].partition(" ")[2] for caption in shown(lived)]
    assert found == days


def test_of_the_whole_shelf_there_are_all(lived):
    assert "5 photos of 6 of the shelf" in lived.told("photos")
    assert "Rust (A2)" in " ".join(shown(lived))
    lived.press("Earlier ones")
    assert len(shown(lived)) == 1


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("photos of Clove", "No photo of Clove (A3) is on record"),
        ("photos of Rust before the last molt", "No molt of Rust (A2) is on record"),
        ("photos of Pebble in 2019", "No photo of that time"),
        ("photos of Pebble before the flood", "is no time that I know"),
    ],
)
def test_what_there_is_not_is_said(lived, asked, said):
    assert said in lived.told(asked)


def test_whose_photos_is_asked_where_two_bear_the_name(lived):
    with_photo(lived, "GBB 1", "2026-05-14")
    assert "Whose photos" in lived.told("photos of GBB")
    lived.press("B1")
    assert "1 photo" in lived.shown[-1].text


def test_whom_a_photo_shows_is_asked_where_two_bear_the_name_and_kept_once(chat):
    assert "Whom does the photo show?" in with_photo(chat, "GBB", "2026-05-14")
    assert "kept with B2" in chat.press("B2")
    with chat.store.look() as work:
        assert [photo.tag for photo in work.photos.of(chat.keeper.shelf_id, None)] == ["B2"]


def test_a_photo_that_is_only_named_can_be_taken_back(chat):
    assert "kept with Pebble (A1)" in with_photo(chat, "Pebble (A1)", "2026-05-14")
    assert chat.entries() == []
    assert "photo of Pebble" in chat.press("Undo")
    with chat.store.look() as work:
        assert work.photos.of(chat.keeper.shelf_id, "A1") == ()


def test_a_photo_with_a_question_is_not_lost_without_a_word(chat):
    assert "is not kept with anybody" in with_photo(chat, "how is Pebble?", "2026-05-14")
    assert "is not kept" not in with_photo(chat, "Pebble molted", "2026-05-14")


def test_a_photo_not_fetched_yet_or_lost_is_told(chat):
    with_photo(chat, "Pebble", "2026-05-14")
    assert "not kept as a file yet" in chat.told("photos of Pebble")
    with chat.store.begin() as work:
        work.photos.cannot_be_kept(work.photos.not_yet_kept(1)[0].id)
    assert "no file of it here" in chat.told("photos of Pebble")


def test_photos_of_one_who_died_are_still_there(lived):
    lived.told("Rust died")
    lived.told("photos of Rust")
    assert len(shown(lived)) == 1


def test_nobody_sees_the_photos_of_another_shelf(lived, store):
    with store.begin() as work:
        other = work.keepers.create("Other (invented)", lived.keeper.settings, at=at("2026-01-01 12:00"))
        work.keepers.link(other.id, "test", "2")
        work.keepers.mark_settled(other.id)
    with store.begin() as work:
        said = lived.talk.respond(
            work, work.keepers.get(other.id), "2", Incoming(sent_at=at("2026-05-14 19:30"), text="photos")
        )
    assert not any(reply.pictures for reply in said)
