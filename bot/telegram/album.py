"""Photos that keepers sent are fetched from Telegram and kept as files beside the store.

Rules: the message is answered first, its photo is fetched afterwards; one process fetches at a time; what
fails for now is tried again at longer and longer intervals, what can never be had is not asked for again.
A photo is written anew without place and camera before it touches the disk; how it came is kept nowhere.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Awaitable, Callable
from functools import partial
from typing import Final

from telegram.error import BadRequest, Forbidden, TelegramError

from bot.telegram.pauses import Pauses
from bot.telegram.redaction import kind_of
from bot.telegram.threads import Threads
from storage import Store
from storage.album import Album
from storage.errors import StoreError
from storage.records import StoredPhoto

_log = logging.getLogger(__name__)

_AT_ONCE: Final = 5
_LOOK_EVERY: Final = 20.0

Fetch = Callable[[str, int], Awaitable[bytes | None]]
"""A file's bytes by Telegram's reference and the most bytes wanted; ``None`` where it is larger."""


class AlbumKeeper:
    """Fetches what is not kept yet. ``may_fetch`` tells whether this process is the one to do it."""

    def __init__(
        self, fetch: Fetch, store: Store, threads: Threads, *, may_fetch: Callable[[], bool]
    ) -> None:
        self._fetch, self._store, self._threads, self._may_fetch = fetch, store, threads, may_fetch
        self._wake = asyncio.Event()

    def look_again(self) -> None:
        """A photo may have come."""
        self._wake.set()

    async def run(self) -> None:
        """Keeps what comes, until cancelled. Without a place for files there is nothing to do."""
        if self._store.album is None:
            return
        pauses = Pauses()
        while True:
            self._wake.clear()
            went_well = await self.keep_waiting(self._store.album)
            if went_well:
                pauses.reset()
            try:
                async with asyncio.timeout(_LOOK_EVERY if went_well else pauses.grow()):
                    await self._wake.wait()
            except TimeoutError:
                continue

    async def keep_waiting(self, album: Album) -> bool:
        """Fetches and keeps all that waits. False where Telegram, disk or store failed it for now."""
        try:
            while waiting := await self._threads.run(self._waiting):
                for photo in waiting:
                    await self._keep(album, photo)
        except (TelegramError, OSError, StoreError) as fault:
            _log.warning("a photo is not kept yet", extra={"why": kind_of(fault)})
            return False
        return True

    def _waiting(self) -> tuple[StoredPhoto, ...]:
        if not self._may_fetch():
            return ()
        with self._store.look() as work:
            return work.photos.not_yet_kept(_AT_ONCE)

    async def _keep(self, album: Album, photo: StoredPhoto) -> None:
        from bot.pictures.photo import MOST_BYTES  # noqa: PLC0415  Pillow costs; few messages are photos

        try:
            data = await self._fetch(photo.reference, MOST_BYTES)
        except (BadRequest, Forbidden):
            data = None  # Telegram knows no such file, or will not give it: asking again would not help
        await self._threads.run(partial(self._settle, album, photo, data))

    def _settle(self, album: Album, photo: StoredPhoto, data: bytes | None) -> None:
        from bot.pictures.photo import NotAPhotoError, clean_photo  # noqa: PLC0415

        try:
            clean = None if data is None else clean_photo(data)
        except NotAPhotoError:
            clean = None
        if clean is None or not album.has_room(photo.shelf_id, len(clean.jpeg)):
            _log.warning("a photo cannot be kept", extra={"photo": photo.id})
            with self._store.begin() as work:
                work.photos.cannot_be_kept(photo.id)
            return
        path = album.path_for(photo.shelf_id, photo.id)
        file = album.write(path, clean.jpeg)
        with self._store.begin() as work:
            still_wanted = work.photos.kept(photo.id, path, (clean.width, clean.height))
        if not still_wanted:
            file.unlink(missing_ok=True)
