"""Files on their way to a chat are for this user's eyes only, whatever lies in the folder that all share."""

import os
import stat
import tempfile
import time

import pytest

from bot.conversation import passing

SECRET = b"where the invented animals stand"


@pytest.fixture
def shared(tmp_path, monkeypatch):
    """The folder that everybody on the machine may write into."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "shared"))
    (tmp_path / "shared").mkdir()
    return tmp_path / "shared"


def usual(shared):
    """The name that anybody can guess."""
    return shared / f"burrowbell-{os.getuid()}"


@pytest.fixture(params=["a folder of another", "open to others", "a link", "a file", "a link to nowhere"])
def taken(request, shared, tmp_path, monkeypatch):
    """The guessable name, taken before by somebody; what they could look into."""
    bait = tmp_path / "theirs"
    match request.param:
        case "a folder of another":
            usual(shared).mkdir(mode=0o700)
            bait = usual(shared)
            lstat = type(bait).lstat

            def of_another(path):
                found = list(lstat(path))
                found[stat.ST_UID] += path == bait
                return os.stat_result(found)

            monkeypatch.setattr(type(bait), "lstat", of_another)
        case "open to others":
            usual(shared).mkdir()
            usual(shared).chmod(0o755)
            bait = usual(shared)
        case "a link":
            bait.mkdir(mode=0o700)
            usual(shared).symlink_to(bait)
        case "a file":
            usual(shared).write_bytes(b"")
        case "a link to nowhere":
            usual(shared).symlink_to(bait)
    return bait


def test_a_folder_that_is_not_safely_ours_is_not_written_into(shared, taken):
    file = passing.keep(SECRET, stem="chart", suffix=".png")
    assert file.read_bytes() == SECRET
    assert file.parent not in {usual(shared), taken}
    assert file.parent.stat().st_mode & 0o077 == 0
    assert not taken.is_dir() or not list(taken.iterdir())


def test_beside_a_taken_name_one_folder_is_used_again_and_its_files_are_dropped(shared, taken):
    first, second = (passing.keep(SECRET, stem="chart", suffix=".png") for _ in range(2))
    assert first.parent == second.parent
    passing.drop(first)
    assert not first.exists()
    old = time.time() - 3 * 86400
    os.utime(second, (old, old))
    third = passing.keep(SECRET, stem="chart", suffix=".png")
    assert list(third.parent.iterdir()) == [third]


def test_a_file_is_readable_by_its_owner_only_whatever_the_umask(shared):
    before = os.umask(0)
    try:
        file = passing.keep(SECRET, stem="export", suffix=".json")
    finally:
        os.umask(before)
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700
    assert file.parent == usual(shared)


def test_no_other_file_is_dropped(shared, tmp_path):
    (tmp_path / "mine.png").write_bytes(SECRET)
    (shared / "burrowbell-elsewhere").mkdir()
    (shared / "burrowbell-elsewhere" / "mine.png").write_bytes(SECRET)
    for file in (tmp_path / "mine.png", shared / "burrowbell-elsewhere" / "mine.png"):
        passing.drop(file)
        assert file.exists()
