"""Photo files beside the store: in backups, back by a restore, and gone with their keeper."""

from __future__ import annotations

import os
import pathlib
import sqlite3
import time
from contextlib import closing

import pytest

from storage import Store
from storage.album import Album, album_of
from storage.backup import backup, restore
from storage.engine import parsed, sqlite_file
from storage.erase import erase
from storage.errors import CopyFailedError
from storage.photos import NO_FILE
from tests.storage.given import NOW, entry, shelf_in, specimen

PICTURE = b"the bytes of an invented picture"


def a_photo(shelf, content=PICTURE, tag="A1"):
    """A photo with its file; its number and path."""
    change = shelf.log(entry("molted", tag))
    with shelf.store.begin() as work:
        number = work.photos.add(change, tag, reference=f"r{change}", path=None, at=NOW)
        path = work.album.path_for(shelf.id, number)
        work.album.write(path, content)
        work.photos.kept(number, path, (8, 6))
    return change, path


@pytest.fixture
def lived_in(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"), specimen("A2"))
    yield shelf
    shelf.store.close()


def test_the_album_lies_beside_a_store_in_a_file_or_where_it_is_told(tmp_path):
    assert album_of(f"sqlite:///{tmp_path / 'store.db'}").folder == tmp_path / "store-photos"
    assert album_of("postgresql+psycopg://host/name", tmp_path / "p").folder == tmp_path / "p"
    assert album_of("postgresql+psycopg://host/name") is None
    assert album_of("sqlite://") is None
    assert album_of("sqlite://", tmp_path / "p") is None


def test_what_waits_is_asked_for_until_it_is_kept_or_cannot_be(shelf):
    change = shelf.log(entry("molted", "A1"))
    with shelf.store.begin() as work:
        first, second, third = (
            work.photos.add(change, "A1", reference=name, path=None, at=NOW) for name in ("a", "b", "c")
        )
        assert [photo.id for photo in work.photos.not_yet_kept(2)] == [first, second]
        work.photos.kept(first, "1/1.jpg", (4, 3))
        work.photos.cannot_be_kept(second)
        assert [photo.reference for photo in work.photos.not_yet_kept(9)] == ["c"]
        kept = {photo.id: photo for photo in work.photos.of(shelf.id, "A1")}
        assert (kept[first].path, kept[first].size) == ("1/1.jpg", (4, 3))
        assert (kept[second].path, kept[second].size, kept[third].path) == (NO_FILE, None, None)
        assert work.photos.paths() == {"1/1.jpg"}
        assert work.photos.shown_by(change) == {"A1"}


@pytest.mark.parametrize(
    "path", ["../1.jpg", "1/../../x.jpg", "/etc/passwd", "1/2.png", "a/1.jpg", "1/2/3.jpg", ""]
)
def test_a_path_that_leads_elsewhere_is_neither_written_nor_read(tmp_path, path):
    album = Album(tmp_path / "photos")
    with pytest.raises(ValueError, match="no path"):
        album.write(path, PICTURE)
    assert album.file(path) is None
    assert not list(tmp_path.rglob("*.jpg"))


def test_nobody_else_on_the_computer_may_look_at_the_photos(lived_in, tmp_path):
    _, path = a_photo(lived_in)
    assert (tmp_path / "store-photos" / path).parent.stat().st_mode & 0o077 == 0


def test_a_shelf_has_room_for_so_much_and_no_more(tmp_path, monkeypatch):
    monkeypatch.setattr("storage.album.MOST_OF_SHELF", 100)
    album = Album(tmp_path)
    album.write("1/1.jpg", b"x" * 60)
    assert album.has_room(1, 40)
    assert not album.has_room(1, 41)
    assert album.has_room(2, 100)


def test_files_that_no_row_knows_are_swept_after_a_day(tmp_path):
    album = Album(tmp_path)
    for name in ("1/1.jpg", "1/2.jpg", "2/3.jpg"):
        album.write(name, PICTURE)
    old = time.time() - 2 * 86400
    for name in ("1/1.jpg", "1/2.jpg"):
        os.utime(tmp_path / name, (old, old))
    assert album.sweep({"1/1.jpg"}, time.time()) == 1
    assert (tmp_path / "1/1.jpg").exists()
    assert not (tmp_path / "1/2.jpg").exists()
    assert (tmp_path / "2/3.jpg").exists()


def test_an_undone_change_keeps_its_file_for_the_redo(lived_in):
    change, path = a_photo(lived_in)
    lived_in.undo(change)
    with lived_in.store.look() as work:
        assert work.photos.of(lived_in.id, "A1") == ()
        assert path in work.photos.paths()
        assert work.album.file(path).read_bytes() == PICTURE


def test_the_photos_are_in_the_backup_and_come_back_with_it(lived_in, file_url, tmp_path):
    _, path = a_photo(lived_in)
    backup(file_url, tmp_path / "copy.db")
    assert not list(tmp_path.glob("copy*photos")), "one file, with nothing beside it"
    elsewhere = f"sqlite:///{tmp_path / 'new' / 'store.db'}"
    restore(tmp_path / "copy.db", elsewhere)
    assert album_of(elsewhere).file(path).read_bytes() == PICTURE
    with closing(sqlite3.connect(tmp_path / "new" / "store.db")) as restored:
        tables = {name for (name,) in restored.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert "photo_file" not in tables
    restore(tmp_path / "copy.db", f"sqlite:///{tmp_path / 'third.db'}")


def test_a_restore_over_a_store_leaves_no_photo_of_the_old_one_and_loses_none(lived_in, file_url, tmp_path):
    backup(file_url, tmp_path / "before.db")
    _, path = a_photo(lived_in)
    lived_in.store.close()
    restore(tmp_path / "before.db", file_url, replace=True)
    assert album_of(file_url).file(path) is None
    restore(tmp_path / "store.db.replaced", file_url, replace=True)
    assert album_of(file_url).file(path).read_bytes() == PICTURE


def plain_copy(url, target):
    """What a program that follows the store's file would fetch: the rows, and nothing of the photos."""
    with (
        closing(sqlite3.connect(sqlite_file(parsed(url)))) as store,
        closing(sqlite3.connect(target)) as copy,
    ):
        store.backup(copy)


@pytest.mark.parametrize("store_is_there", [True, False])
def test_a_restore_from_a_plain_copy_of_the_store_leaves_its_photos(
    lived_in, file_url, tmp_path, store_is_there
):
    _, path = a_photo(lived_in)
    lived_in.store.close()
    plain_copy(file_url, tmp_path / "fetched.db")
    if not store_is_there:
        for part in tmp_path.glob("store.db*"):
            part.unlink()
    restore(tmp_path / "fetched.db", file_url, replace=True)
    assert album_of(file_url).file(path).read_bytes() == PICTURE


def test_a_restore_that_cannot_write_the_photos_leaves_those_that_are_there(
    lived_in, file_url, tmp_path, monkeypatch
):
    _, path = a_photo(lived_in)
    backup(file_url, tmp_path / "copy.db")
    lived_in.store.close()
    written = []

    def full_disk(file, content):
        written.append(file)
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(pathlib.Path, "write_bytes", full_disk)
    with pytest.raises(CopyFailedError, match="No space left"):
        restore(tmp_path / "copy.db", file_url, replace=True)
    assert written
    assert album_of(file_url).file(path).read_bytes() == PICTURE
    assert [found.name for found in (tmp_path / "store-photos").iterdir()] == ["1"]


def test_photos_that_cannot_be_moved_to_their_place_leave_the_old_ones_there(tmp_path, monkeypatch):
    album = Album(tmp_path / "photos")
    album.write("1/1.jpg", b"old")
    album.write("2/2.jpg", b"old too")
    renamed, rename = [], pathlib.Path.rename

    def one_too_many(path, target):
        renamed.append(path)
        if len(renamed) == 4:
            raise OSError(5, "Input/output error")
        return rename(path, target)

    monkeypatch.setattr(pathlib.Path, "rename", one_too_many)
    with pytest.raises(OSError, match="Input/output"):
        album.replace_all([("1/1.jpg", b"new"), ("2/2.jpg", b"new too")])
    assert [album.file(path).read_bytes() for path in ("1/1.jpg", "2/2.jpg")] == [b"old", b"old too"]


def test_a_backup_that_was_tampered_with_writes_nothing_outside_the_album(lived_in, file_url, tmp_path):
    a_photo(lived_in)
    backup(file_url, tmp_path / "copy.db")
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy, copy:
        copy.execute("INSERT INTO photo_file VALUES ('../../evil.jpg', x'00')")
    restore(tmp_path / "copy.db", f"sqlite:///{tmp_path / 'new' / 'store.db'}")
    assert not list(tmp_path.rglob("evil*"))


def test_a_photo_whose_file_is_gone_does_not_stop_a_backup(lived_in, file_url, tmp_path):
    _, path = a_photo(lived_in)
    album_of(file_url).file(path).unlink()
    assert backup(file_url, tmp_path / "copy.db")["entry"] == 1


def test_a_backup_of_a_server_has_the_photos_too(server_url, tmp_path):
    folder = tmp_path / "photos"
    shelf = shelf_in(Store.open(server_url, photos=folder))
    shelf.add(specimen("A1"))
    _, path = a_photo(shelf)
    shelf.store.close()
    backup(server_url, tmp_path / "copy.db", photos=folder)
    elsewhere = f"sqlite:///{tmp_path / 'store.db'}"
    restore(tmp_path / "copy.db", elsewhere)
    assert album_of(elsewhere).file(path).read_bytes() == PICTURE


def test_an_erased_keepers_photos_are_gone_also_those_taken_back_and_nobody_elses(lived_in, file_url):
    other = shelf_in(lived_in.store, "Birch (invented)")
    other.add(specimen("A1"))
    _, kept = a_photo(other)
    change, path = a_photo(lived_in)
    lived_in.undo(change)
    with lived_in.store.begin() as work:
        erase(work, lived_in.keeper.id)
        assert work.album.file(path) is not None, "not before it is committed"
    album = album_of(file_url)
    assert album.file(path) is None
    assert not (album.folder / str(lived_in.id)).exists()
    assert album.file(kept) is not None


def test_an_erasure_that_fails_loses_no_photo(lived_in, file_url):
    _, path = a_photo(lived_in)

    def fails():
        with lived_in.store.begin() as work:
            erase(work, lived_in.keeper.id)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fails()
    assert album_of(file_url).file(path) is not None
