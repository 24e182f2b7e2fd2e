"""Photos that keepers send become files beside the store, without the place they were taken at."""

from __future__ import annotations

import pytest
from PIL import Image
from telegram.error import BadRequest, NetworkError

from bot.telegram.album import AlbumKeeper
from bot.telegram.threads import Threads
from storage import Store
from storage.erase import erase
from storage.photos import NO_FILE
from tests.pictures.test_photo import jpeg_with_everything
from tests.storage.given import NOW, entry, shelf_in, specimen


@pytest.fixture
def shelf(file_url):
    made = shelf_in(Store.open(file_url))
    made.add(specimen("A1"))
    yield made
    made.store.close()


@pytest.fixture
def file_url(tmp_path):
    return f"sqlite:///{tmp_path / 'store.db'}"


class Fetched:
    """Telegram's files, or what goes wrong instead; what was asked for is in ``asked``."""

    def __init__(self, **files):
        self.files, self.asked = files, []

    async def __call__(self, reference, most):
        self.asked.append(reference)
        found = self.files[reference]
        if isinstance(found, Exception):
            raise found
        return None if found is None or len(found) > most else found


def sent(shelf, *references):
    change = shelf.log(entry("molted", "A1"))
    with shelf.store.begin() as work:
        for reference in references:
            work.photos.add(change, "A1", reference=reference, path=None, at=NOW)


def paths(shelf):
    with shelf.store.look() as work:
        return {photo.reference: photo.path for photo in work.photos.of(shelf.id, "A1")}


async def kept(shelf, fetch, *, may_fetch=lambda: True):
    threads = Threads()
    keeper = AlbumKeeper(fetch, shelf.store, threads, may_fetch=may_fetch)
    try:
        return await keeper.keep_waiting(shelf.store.album)
    finally:
        threads.close()


async def test_a_photo_is_kept_without_its_place_and_asked_for_once(shelf):
    sent(shelf, "a", "b")
    fetch = Fetched(a=jpeg_with_everything(), b=jpeg_with_everything())
    assert await kept(shelf, fetch)
    assert await kept(shelf, fetch)
    assert fetch.asked == ["a", "b"]
    for path in paths(shelf).values():
        file = shelf.store.album.file(path)
        assert b"Exif" not in file.read_bytes()
        assert b"51.5" not in file.read_bytes()
        assert not Image.open(file).getexif()
    files = [file for file in shelf.store.album.folder.rglob("*") if file.is_file()]
    assert len(files) == 2, "nothing of how it came is left beside it"


@pytest.mark.parametrize(
    "found",
    [None, b"no picture at all", BadRequest("wrong file_id")],
    ids=["too large", "no picture", "unknown"],
)
async def test_what_can_never_be_had_is_not_asked_for_again_and_holds_up_nobody(shelf, found):
    sent(shelf, "bad", "good")
    fetch = Fetched(bad=found, good=jpeg_with_everything())
    assert await kept(shelf, fetch)
    assert await kept(shelf, fetch)
    assert fetch.asked == ["bad", "good"]
    assert paths(shelf)["bad"] == NO_FILE
    assert shelf.store.album.file(paths(shelf)["good"])


async def test_while_telegram_is_out_of_reach_the_photo_waits(shelf):
    sent(shelf, "a")
    fetch = Fetched(a=NetworkError("out of reach"))
    assert not await kept(shelf, fetch)
    assert paths(shelf) == {"a": None}
    fetch.files["a"] = jpeg_with_everything()
    assert await kept(shelf, fetch)
    assert shelf.store.album.file(paths(shelf)["a"])


async def test_a_shelf_that_is_full_keeps_no_more_and_says_so_in_its_row(shelf, monkeypatch):
    monkeypatch.setattr("storage.album.MOST_OF_SHELF", 10)
    sent(shelf, "a")
    assert await kept(shelf, Fetched(a=jpeg_with_everything()))
    assert paths(shelf) == {"a": NO_FILE}


async def test_a_process_without_the_right_fetches_nothing(shelf):
    sent(shelf, "a")
    fetch = Fetched(a=jpeg_with_everything())
    assert await kept(shelf, fetch, may_fetch=lambda: False)
    assert (fetch.asked, paths(shelf)) == ([], {"a": None})


async def test_served_for_real_the_file_lies_beside_the_store_and_outlives_an_outage(api, serving, tmp_path):
    api.files["p"] = jpeg_with_everything()
    sizes = [{"file_id": "p", "file_unique_id": "u", "width": 64, "height": 48}]
    await serving.start()
    api.says(photo=sizes, caption="Ink molted")
    await api.until(lambda: "stored Ink molted" in api.texts())
    folder = tmp_path / "bot-photos"
    await api.until(lambda: list(folder.glob("*/*.jpg")))
    assert await serving.stop() == 0
    (file,) = folder.glob("*/*.jpg")
    assert Image.open(file).size == (64, 48)
    assert b"51.5" not in file.read_bytes()
    assert api.refused == []
    assert "stand-in-token" not in serving.logged()


async def test_a_photo_whose_keeper_is_erased_while_it_is_fetched_leaves_no_file(shelf):
    sent(shelf, "a")

    async def fetch(_reference, _most):
        with shelf.store.begin() as work:
            erase(work, shelf.keeper.id)
        return jpeg_with_everything()

    assert await kept(shelf, fetch)
    assert not list(shelf.store.album.folder.rglob("*.jpg"))
