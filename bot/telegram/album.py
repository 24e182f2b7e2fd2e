"""Albums: several photos sent together come as several messages, of which one has the caption.

Rules: the caption is handled once, with the photos that came before it; photos that come after it
are attached to what it logged; an album that has no caption so far is asked about once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Final

from bot.conversation.model import Incoming, Photo
from storage import Work

_MOST: Final = 10
"""An album has at most ten pictures (Bot API, sendMediaGroup)."""


class Albums:
    """What is known of the album that a keeper sent last in a chat, kept in the store."""

    def __init__(self, work: Work, keeper_id: int, chat: str) -> None:
        self._work, self._keeper, self._place = work, keeper_id, f"{chat}/album"

    def gather(
        self, album: str, incoming: Incoming, *, origin: Callable[[str], str], at: datetime
    ) -> Incoming | None:
        """The message to hand on, or ``None`` where it is only one more photo of what was handled.

        ``origin`` gives the mark of the change that a message made, from the message's reference.
        """
        mind = self._work.dialogs.get(self._keeper, self._place)
        if mind.get("album") != album:
            mind = {"album": album, "caption": None, "photos": []}
        before = [Photo(reference=reference) for reference in mind["photos"]]
        known = bool(before) or mind["caption"] is not None
        if incoming.text:
            mind["caption"] = incoming.reference
        mind["photos"] = [*mind["photos"], *(photo.reference for photo in incoming.photos)][:_MOST]
        self._work.dialogs.set(self._keeper, self._place, mind)
        if incoming.text:
            return replace(incoming, photos=(*before, *incoming.photos))
        if mind["caption"] is not None:
            self._attach(origin(mind["caption"]), incoming, at)
        return None if known else incoming

    def _attach(self, origin: str, incoming: Incoming, at: datetime) -> None:
        change = self._work.journal.change_of(origin)
        if change is None:
            return
        tags = {tag for row in self._work.journal.entries_of(change.id) for tag in row.entry.specimens}
        tag = tags.pop() if len(tags) == 1 else None
        for photo in incoming.photos:
            self._work.photos.add(change.id, tag, reference=photo.reference, path=None, at=at)
