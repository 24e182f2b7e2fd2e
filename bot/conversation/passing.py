"""Files that pass through on their way to a chat: charts, exports.

They lie in the system's folder for what is passing, where nobody else may look, under names that tell
nothing of whom they are about. Who has sent one drops it; what nobody came for goes when it is old.
"""

from __future__ import annotations

import os
import secrets
import tempfile
import time
from pathlib import Path
from typing import Final

_KEPT_FOR_S: Final = 2 * 24 * 3600
_OWNER_ONLY: Final = 0o700


def keep(content: bytes, *, stem: str, suffix: str) -> Path:
    """Writes a file to be sent, as ``stem-`` with a random part and the suffix."""
    folder = _folder()
    folder.mkdir(mode=_OWNER_ONLY, exist_ok=True)
    _drop_old(folder)
    file = folder / f"{stem}-{secrets.token_hex(6)}{suffix}"
    file.write_bytes(content)
    return file


def drop(file: Path) -> None:
    """Deletes a file that was sent, where it is one of these."""
    if file.parent == _folder():
        file.unlink(missing_ok=True)


def _folder() -> Path:
    owner = os.getuid() if hasattr(os, "getuid") else "pictures"
    return Path(tempfile.gettempdir()) / f"burrowbell-{owner}"


def _drop_old(folder: Path) -> None:
    oldest = time.time() - _KEPT_FOR_S
    for file in folder.iterdir():
        if file.is_file() and file.stat().st_mtime < oldest:
            file.unlink(missing_ok=True)
