"""Files that pass through on their way to a chat: charts, exports.

They lie in the system's folder for what is passing, where nobody else may look, under names that tell
nothing of whom they are about. Who has sent one drops it; what nobody came for goes when it is old.

That folder is open to everybody on the machine, and the name in it can be guessed: one that another made
there first, or that others may look into, is passed over for one whose name nobody could guess.
"""

from __future__ import annotations

import os
import secrets
import stat
import tempfile
import time
from contextlib import suppress
from pathlib import Path
from typing import Final

_KEPT_FOR_S: Final = 2 * 24 * 3600
_OWNER_ONLY: Final = 0o700
_OTHERS: Final = 0o077


def keep(content: bytes, *, stem: str, suffix: str) -> Path:
    """Writes a file to be sent, as ``stem-`` with a random part and the suffix, for this user's eyes only."""
    folder = _folder()
    _drop_old(folder)
    file = folder / f"{stem}-{secrets.token_hex(6)}{suffix}"
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as opened:
        opened.write(content)
    return file


def drop(file: Path) -> None:
    """Deletes a file that was sent, where it is one of these, whichever process kept it."""
    if file.parent in _candidates() and _is_own(file.parent):
        file.unlink(missing_ok=True)


def _folder() -> Path:
    """This user's folder, made where there is none."""
    first, *others = _candidates()
    with suppress(FileExistsError):
        first.mkdir(mode=_OWNER_ONLY)
    own = next((folder for folder in (first, *others) if _is_own(folder)), None)
    return own or Path(tempfile.mkdtemp(prefix=f"{first.name}-", dir=first.parent))


def _candidates() -> list[Path]:
    """The folder with the plain name, and those that were made beside it because it could not be used."""
    owner = os.getuid() if hasattr(os, "getuid") else "pictures"
    first = Path(tempfile.gettempdir()) / f"burrowbell-{owner}"
    return [first, *sorted(first.parent.glob(f"{first.name}-*"))]


def _is_own(folder: Path) -> bool:
    """Whether it is a folder, no link to one, that is this user's and that nobody else may look into."""
    try:
        found = folder.lstat()
    except FileNotFoundError:
        return False
    if not stat.S_ISDIR(found.st_mode):
        return False
    if not hasattr(os, "getuid"):
        return True  # a system that has a folder for what is passing for each user
    return found.st_uid == os.getuid() and not found.st_mode & _OTHERS


def _drop_old(folder: Path) -> None:
    oldest = time.time() - _KEPT_FOR_S
    for file in folder.iterdir():
        if file.is_file() and file.stat().st_mtime < oldest:
            file.unlink(missing_ok=True)
