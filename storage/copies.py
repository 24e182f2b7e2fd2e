"""A folder of copies of a store, one for each day (UTC), thinned out as they grow old."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

from storage.backup import backup
from storage.engine import parsed, sqlite_file
from storage.errors import CopyFailedError
from storage.rotation import Keep, kept
from storage.sealing import SEALED, seal

_STEM: Final = "burrowbell-"
_SUFFIX: Final = ".db"
#: Less than this is no room to go on with, however small the store is.
_LEAST_FREE: Final = 64 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Copies:
    """Copies of the store of a URL in a folder; nothing else in that folder is ever touched.

    ``photos`` is where the store's photo files lie, if not beside it; they are in each copy.
    """

    url: str
    folder: Path
    keep: Keep
    photos: Path | None = None

    def days(self) -> Mapping[date, Path]:
        """The copies that are there, by day."""
        found = {}
        for path in self.folder.glob(f"{_STEM}*{_SUFFIX}"):
            try:
                found[date.fromisoformat(path.name.removeprefix(_STEM).removesuffix(_SUFFIX))] = path
            except ValueError:
                continue  # a file that somebody else named
        return found

    def make(self, day: date) -> Path:
        """Makes the day's copy, and only once that is whole drops those that are not kept any more.

        Raises :class:`~storage.errors.CopyFailedError`, with which nothing is dropped, and what
        :func:`~storage.backup.backup` raises.
        """
        path = self.folder / f"{_STEM}{day}{_SUFFIX}"
        try:
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            backup(self.url, path, photos=self.photos)
            path.chmod(0o600)
            there = self.days()
            for old in there.keys() - kept(there, self.keep):
                there[old].unlink(missing_ok=True)
        except OSError as problem:
            raise CopyFailedError(f"The copy could not be written ({problem.strerror}).") from problem
        return path

    def sealed(self, copy: Path, key: str) -> Path:
        """A sealed copy beside a copy, in place of any that was there before; see :func:`seal`."""
        try:
            for old in self.folder.glob(f"{_STEM}*{_SUFFIX}{SEALED}"):
                old.unlink(missing_ok=True)
            return seal(copy, copy.with_name(copy.name + SEALED), key)
        except OSError as problem:
            raise CopyFailedError(f"The copy could not be sealed ({problem.strerror}).") from problem


def room_left(url: str, folder: Path | None = None) -> tuple[int, int]:
    """The bytes free where the store and its copies lie, whichever has fewer, and how many are wanted.

    Wanted is room for the store to be copied and written anew; a store on a server is none of ours to
    measure, and then wants nothing. Raises ``OSError`` where a disk cannot be asked.
    """
    file = sqlite_file(parsed(url))
    places = [
        place for place in (file.absolute().parent if file else None, folder) if place and place.is_dir()
    ]
    if not places:
        return 0, 0
    free = min(shutil.disk_usage(place).free for place in places)
    size = file.stat().st_size if file and file.exists() else 0
    return free, max(_LEAST_FREE, 2 * size)
