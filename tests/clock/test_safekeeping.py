"""A copy a day, a sealed one each week to the one who runs the bot, and a word while there is time."""

from datetime import UTC, date, datetime, timedelta

import pytest

import storage.copies
from bot.clock import Safekeeping
from bot.clock import safekeeping as module
from bot.terms import KeeperSettings
from storage import Store
from storage.copies import Copies
from storage.rotation import Keep
from storage.sealing import is_sealed, new_key, unseal

#: A Wednesday, so that the week ends within the first five days.
START = datetime(2026, 5, 13, 4, 0, tzinfo=UTC)
PUBLIC, SECRET = new_key()


class Box:
    """Keeps what is posted, once for each key, and what lay in the pictures' files."""

    front_end = "telegram"

    def __init__(self):
        self.letters, self.files, self.keys = [], [], set()

    def nudge(self, work, *, keeper_id, chat, replies, key, at):
        if key in self.keys:
            return False
        self.keys.add(key)
        self.letters += [(chat, reply.text) for reply in replies]
        self.files += [path for reply in replies for path in reply.pictures]
        return True


@pytest.fixture
def store(tmp_path):
    made = Store.open(f"sqlite:///{tmp_path / 'store.db'}")
    with made.begin() as work:
        for name, user in (("Ada (invented)", "7"), ("Ben (invented)", "8")):
            keeper = work.keepers.create(name, KeeperSettings(), at=START)
            work.keepers.link(keeper.id, "telegram", user)
    yield made
    made.close()


@pytest.fixture
def copies(store, tmp_path):
    return Copies(store.url, tmp_path / "copies", Keep(daily=3, weekly=1, monthly=0))


@pytest.fixture
def roomy(monkeypatch):
    """A disk with room, whatever this machine's has."""
    monkeypatch.setattr(module, "room_left", lambda url, folder=None: (2, 1))


def run(keeping, days, per_day=3):
    return [
        keeping.run(START + timedelta(days=day, minutes=30 * turn))
        for day in range(days)
        for turn in range(per_day)
    ]


def test_a_copy_is_made_once_a_day_and_old_ones_go(roomy, store, copies):
    box = Box()
    assert sum(run(Safekeeping(store, box, operator="7", copies=copies), 5)) == 0
    assert sorted(copies.days()) == [date(2026, 5, day) for day in (15, 16, 17)]
    assert box.letters == []


def test_a_new_start_makes_no_second_copy_of_the_day(roomy, store, copies):
    Safekeeping(store, Box(), operator="7", copies=copies).run(START)
    made = copies.days()[date(2026, 5, 13)].stat()
    Safekeeping(store, Box(), operator="7", copies=copies).run(START + timedelta(hours=5))
    assert copies.days()[date(2026, 5, 13)].stat().st_ino == made.st_ino


def test_each_week_one_sealed_copy_goes_to_the_one_who_runs_the_bot(roomy, store, copies, tmp_path):
    box = Box()
    run(Safekeeping(store, box, operator="7", copies=copies, key=PUBLIC), 13)
    assert [chat for chat, _ in box.letters] == ["7", "7", "7"]  # weeks 20, 21 and 22 of 2026
    assert "2026-05-13" in box.letters[0][1]
    sent = box.files[-1]
    assert is_sealed(sent)
    (tmp_path / "key").write_text(SECRET)
    unseal(sent, tmp_path / "opened.db", tmp_path / "key")
    opened = Store.open(f"sqlite:///{tmp_path / 'opened.db'}")
    with opened.look() as work:
        assert work.keepers.by_contact("telegram", "8").name == "Ben (invented)"
    opened.close()


def test_a_copy_too_large_to_send_is_told_and_not_sent(roomy, store, copies, monkeypatch):
    monkeypatch.setattr(module, "_MOST_SENT", 1000)
    box = Box()
    run(Safekeeping(store, box, operator="7", copies=copies, key=PUBLIC), 2)
    assert [chat for chat, _ in box.letters] == ["7"]
    assert "too large" in box.letters[0][1]
    assert box.files == []


def test_a_copy_that_fails_is_told_once_a_day_and_tried_again(roomy, store, copies):
    box, keeping = Box(), None
    keeping = Safekeeping(store, box, operator="7", copies=copies)
    keeping.run(START)
    copies.folder.rename(copies.folder.with_name("away"))
    copies.folder.write_text("a file where the folder was")
    tomorrow = START + timedelta(days=1)
    for turn in range(3):
        keeping.run(tomorrow + timedelta(minutes=30 * turn))
    assert len(box.letters) == 1
    assert "was not made" in box.letters[0][1]
    copies.folder.unlink()
    keeping.run(tomorrow + timedelta(hours=3))
    assert list(copies.days()) == [date(2026, 5, 14)]


def test_a_sealing_that_fails_is_told_as_that_and_made_up_for_on_the_same_day(
    roomy, store, copies, monkeypatch
):
    box = Box()
    keeping = Safekeeping(store, box, operator="7", copies=copies, key=PUBLIC)

    def full_disk(file, target, key):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(storage.copies, "seal", full_disk)
        for turn in range(3):
            keeping.run(START + timedelta(minutes=30 * turn))
    assert [text for _, text in box.letters] == [
        "This week’s copy of the store could not be sealed, so none was sent; I try again. "
        "The copy could not be sealed (No space left on device). "
        "The copies in the folder are not touched by that."
    ]
    keeping.run(START + timedelta(hours=2))
    assert len(box.letters) == 2
    assert is_sealed(box.files[-1])
    keeping.run(START + timedelta(hours=3))
    assert len(box.letters) == 2


def test_the_one_who_runs_the_bot_is_told_in_their_own_language(roomy, store, copies, monkeypatch):
    monkeypatch.setattr(module, "room_left", lambda url, folder=None: (12_000_000, 64_000_000))
    with store.begin() as work:
        work.keepers.save_settings(1, KeeperSettings(language="de"))
    copies.folder.write_text("a file where the folder would be")
    box = Box()
    run(Safekeeping(store, box, operator="7", copies=copies), 1)
    assert [text.split(".")[0] for _, text in box.letters] == [
        "Die Platte wird voll: 12 MB frei, 64 MB gewünscht",
        "Die heutige Kopie des Speichers kam nicht zustande",
    ]
    assert "noch keinem Tag" in box.letters[1][1]


def test_a_disk_that_fills_up_is_told_while_the_store_can_still_be_written(store, monkeypatch):
    monkeypatch.setattr(module, "room_left", lambda url, folder=None: (12_000_000, 64_000_000))
    box = Box()
    run(Safekeeping(store, box, operator="7"), 2)
    assert [chat for chat, _ in box.letters] == ["7", "7"]
    assert "12 MB free" in box.letters[0][1]


def test_where_the_one_who_runs_the_bot_never_wrote_to_it_copies_are_made_all_the_same(roomy, store, copies):
    box = Box()
    run(Safekeeping(store, box, operator="99", copies=copies, key=PUBLIC), 1)
    assert box.letters == []
    assert list(copies.days()) == [date(2026, 5, 13)]
