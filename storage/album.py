"""Photos as files beside the store: one folder for a store, within it one for each shelf.

The store's rows tell what a file shows; a file without a row is nobody's and is swept out. Files are
written under another name first, so that one that is there is whole.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Collection, Iterable
from pathlib import Path
from typing import Final

from storage.engine import parsed, sqlite_file

#: What one shelf's photos may take, in bytes.
MOST_OF_SHELF: Final = 2 * 2**30
_PATH: Final = re.compile(r"[0-9]{1,18}/[0-9]{1,18}\.jpg")
_SECONDS_OF_GRACE: Final = 24 * 3600
_OWNER_ONLY: Final = 0o700


def album_of(url: str, folder: Path | None = None) -> Album | None:
    """The album of a store: in that folder, else beside a SQLite file; ``None`` where there is no place.

    A store in memory has none, also where a folder is named: what is thrown away touches no files.
    """
    file = sqlite_file(parsed(url))
    if file is None and parsed(url).get_backend_name() == "sqlite":
        return None
    if folder is None and file is not None:
        folder = file.with_name(f"{file.stem}-photos")
    return Album(folder) if folder is not None else None


class Album:
    """The photo files of one store, by paths relative to its folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    @staticmethod
    def path_for(shelf_id: int, photo_id: int) -> str:
        """The path under which a photo is kept."""
        return f"{shelf_id}/{photo_id}.jpg"

    def file(self, path: str) -> Path | None:
        """The file of a path; ``None`` where it is not there, or is no path of an album."""
        if not _PATH.fullmatch(path):
            return None
        file = self.folder / path
        return file if file.is_file() else None

    def has_room(self, shelf_id: int, more: int) -> bool:
        """Whether a shelf's photos may take so many bytes more."""
        there = (self.folder / str(shelf_id)).glob("*.jpg")
        return sum(file.stat().st_size for file in there) + more <= MOST_OF_SHELF

    def write(self, path: str, content: bytes) -> Path:
        """Writes a file. Raises ``ValueError`` for what is no path of an album, and ``OSError``."""
        if not _PATH.fullmatch(path):
            raise ValueError("That is no path of a photo.")
        file = self.folder / path
        file.parent.mkdir(mode=_OWNER_ONLY, parents=True, exist_ok=True)
        part = file.with_suffix(".part")
        part.write_bytes(content)
        part.replace(file)
        return file

    def forget_shelf(self, shelf_id: int) -> None:
        """Deletes all photo files of a shelf."""
        shutil.rmtree(self.folder / str(shelf_id), ignore_errors=True)

    def replace_all(self, files: Iterable[tuple[str, bytes]]) -> int:
        """Puts these files in place of all that are there, once every one is written; gives how many.

        What is no path of an album is left out. Raises ``OSError``, with which the old files stay.
        """
        coming, going = Album(self.folder / ".coming"), self.folder / ".going"
        for left_over in (coming.folder, going):
            shutil.rmtree(left_over, ignore_errors=True)
        count = 0
        try:
            for path, content in files:
                if _PATH.fullmatch(path):
                    coming.write(path, content)
                    count += 1
            try:
                _move_shelves(self.folder, going)
                _move_shelves(coming.folder, self.folder)
            except OSError:
                _move_shelves(going, self.folder)
                raise
        finally:
            shutil.rmtree(coming.folder, ignore_errors=True)
        shutil.rmtree(going, ignore_errors=True)
        return count

    def sweep(self, known: Collection[str], now: float) -> int:
        """Deletes files that no row knows and that are older than a day; gives how many.

        ``now`` are seconds since the epoch, as file times are.
        """
        swept = 0
        for file in [*self.folder.glob("*/*.jpg"), *self.folder.glob("*/*.part")]:
            stray = file.relative_to(self.folder).as_posix() not in known
            if stray and now - file.stat().st_mtime > _SECONDS_OF_GRACE:
                file.unlink(missing_ok=True)
                swept += 1
        return swept


def _move_shelves(source: Path, target: Path) -> None:
    """Within one album, so that it is one renaming for each shelf, whatever disk the album is on."""
    for shelf in [folder for folder in source.glob("*") if folder.name.isdecimal()]:
        target.mkdir(mode=_OWNER_ONLY, parents=True, exist_ok=True)
        shutil.rmtree(target / shelf.name, ignore_errors=True)
        shelf.rename(target / shelf.name)
