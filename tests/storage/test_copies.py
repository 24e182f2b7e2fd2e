"""A folder of copies: one a day, thinned out, sealed for whoever has the key and for nobody else."""

import base64
import shutil
import subprocess
from datetime import date, timedelta

import pytest

from storage import Store
from storage.backup import restore
from storage.copies import Copies, room_left
from storage.errors import CopyFailedError, StoreError
from storage.rotation import Keep
from storage.sealing import is_public_key, is_sealed, new_key, seal, unseal
from tests.storage.given import entry, shelf_in, specimen

DAY = date(2026, 5, 14)


@pytest.fixture
def lived_in(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"))
    shelf.log(entry("fed", "A1"))
    yield shelf
    shelf.store.close()


@pytest.fixture
def copies(lived_in, file_url, tmp_path):
    return Copies(file_url, tmp_path / "copies", Keep(daily=2, weekly=1, monthly=0))


def test_each_day_has_a_copy_that_can_be_restored_and_old_ones_go(copies, lived_in, tmp_path):
    for number in range(4):
        lived_in.log(entry("fed", "A1", day=DAY))
        copies.make(DAY + timedelta(days=number))
    assert sorted(copies.days()) == [DAY + timedelta(days=2), DAY + timedelta(days=3)]
    counts = restore(copies.days()[DAY + timedelta(days=2)], f"sqlite:///{tmp_path / 'new.db'}")
    assert counts["entry"] == 4


def test_nobody_else_may_read_a_copy(copies):
    path = copies.make(DAY)
    assert (path.stat().st_mode & 0o077, path.parent.stat().st_mode & 0o077) == (0, 0)


def test_what_else_lies_in_the_folder_stays(copies):
    copies.folder.mkdir()
    others = ["burrowbell-2020.db", "burrowbell-2020-01-01.db.replaced", "mine-2020-01-01.db", "notes"]
    for name in others:
        (copies.folder / name).write_text("mine")
    for number in range(4):
        copies.make(DAY + timedelta(days=number))
    assert {path.name for path in copies.folder.iterdir()} >= set(others)


def test_where_the_new_copy_fails_no_old_one_goes(copies, lived_in, tmp_path):
    lived_in.add(*(specimen(f"T{number}") for number in range(300)))
    for number in range(2):
        copies.make(DAY + timedelta(days=number))
    before = dict(copies.days())
    lived_in.store.close()
    with (tmp_path / "store.db").open("r+b") as file:
        file.seek(4096)
        file.write(b"\xa5" * 40_000)
    for number in (30, 60):
        with pytest.raises(StoreError):
            copies.make(DAY + timedelta(days=number))
    assert copies.days() == before


def test_a_sealed_copy_opens_with_its_key_and_holds_the_store(copies, tmp_path):
    public, secret = new_key()
    sealed = copies.sealed(copies.make(DAY), public)
    assert is_sealed(sealed)
    assert not is_sealed(copies.days()[DAY])
    assert b"Ash (invented)" in copies.days()[DAY].read_bytes()
    assert b"Ash (invented)" not in sealed.read_bytes()
    (tmp_path / "key").write_text(f"# made today\n{secret}\n")
    unseal(sealed, tmp_path / "opened.db", tmp_path / "key")
    assert (tmp_path / "opened.db").read_bytes() == copies.days()[DAY].read_bytes()


def test_a_new_sealed_copy_takes_the_place_of_the_last_one(copies):
    public, _ = new_key()
    for number in range(2):
        last = copies.sealed(copies.make(DAY + timedelta(days=number)), public)
    assert list(copies.folder.glob("*.age")) == [last]


def test_a_sealed_file_that_was_changed_or_is_another_s_is_refused(tmp_path):
    (tmp_path / "plain").write_bytes(b"the shelf" * 20_000)
    (public, secret), (_, another) = new_key(), new_key()
    sealed = seal(tmp_path / "plain", tmp_path / "sealed", public)
    (tmp_path / "another").write_text(another)
    with pytest.raises(CopyFailedError, match="does not open"):
        unseal(sealed, tmp_path / "opened", tmp_path / "another")
    (tmp_path / "own").write_text(secret)
    whole = bytearray(sealed.read_bytes())
    whole[len(whole) // 2] ^= 1
    sealed.write_bytes(whole)
    with pytest.raises(CopyFailedError, match="damaged"):
        unseal(sealed, tmp_path / "opened", tmp_path / "own")


@pytest.mark.parametrize("text", ["", "AGE-SECRET-KEY-1QQQ", "age1short", "a passphrase"])
def test_what_is_no_key_is_refused(tmp_path, text):
    assert not is_public_key(text)
    (tmp_path / "plain").write_text("x")
    (tmp_path / "key").write_text(text)
    with pytest.raises(StoreError, match="no public key"):
        seal(tmp_path / "plain", tmp_path / "sealed", text)
    with pytest.raises(StoreError, match="no secret key"):
        unseal(tmp_path / "plain", tmp_path / "opened", tmp_path / "key")


#: Made for this test by the age program 1.1.1 and its ``age-keygen``; the key opens nothing else.
OF_ANOTHER_PROGRAM = (
    "AGE-SECRET-KEY-1DNF9W8YUX0V9EVYUDRYMWA7JUNW7GUQF8L27VL6NZ8KHZUJ29ZXSNNDWAC",
    "age1clhmf7umkytdevjuf58u5urckfr4nv4jcymjqqjzshkml5cxl4wqaaxw24",
    "YWdlLWVuY3J5cHRpb24ub3JnL3YxCi0+IFgyNTUxOSBlTHpvSXY2RWZEZVB3WG5G"
    "NjFZSU8wZ256dXJ5ek9rUWh3bTBrbzRwaTNBCjA5TXREWDZvcU1ya0dxRFNqV3Vr"
    "R1hXVzdCYld1ZkpEWHNmTE1sU0d6eTAKLS0tIHFHTitkVzR3K09rMmIvdzFwZVY5"
    "ZXFWSDBJZEJWd0UyVGQyVEU1YVV3amMK0mSgkZ+/2r+yTkzf1/JPCJmvVOpo7g+r"
    "dxdkFLkal7WbZu192RkJGJlj/TNYRUGdOofODXLj",
)


def test_what_another_program_for_the_format_sealed_opens(tmp_path):
    secret, public, sealed = OF_ANOTHER_PROGRAM
    (tmp_path / "sealed").write_bytes(base64.b64decode(sealed))
    (tmp_path / "key").write_text(secret)
    unseal(tmp_path / "sealed", tmp_path / "opened", tmp_path / "key")
    assert (tmp_path / "opened").read_text() == "The shelf (invented).\n"
    assert is_public_key(public)


@pytest.mark.skipif(not shutil.which("age"), reason="needs the age program")
def test_another_program_for_the_format_opens_a_sealed_file(tmp_path):
    public, secret = new_key()
    (tmp_path / "plain").write_bytes(b"the shelf" * 20_000)
    (tmp_path / "key").write_text(secret)
    sealed = seal(tmp_path / "plain", tmp_path / "sealed", public)
    opened = subprocess.run(
        ["age", "--decrypt", "--identity", tmp_path / "key", sealed], capture_output=True, check=True
    )
    assert opened.stdout == (tmp_path / "plain").read_bytes()


def test_how_much_room_is_left_is_known_for_a_file_and_not_asked_of_a_server(lived_in, file_url, tmp_path):
    free, wanted = room_left(file_url, tmp_path)
    assert free == pytest.approx(shutil.disk_usage(tmp_path).free, rel=0.2)
    assert wanted >= 2 * (tmp_path / "store.db").stat().st_size
    assert room_left("postgresql+psycopg://nobody@/none") == (0, 0)
