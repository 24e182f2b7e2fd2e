"""Photos: an album comes as several messages, an edited caption with the photo that is known already.

Rules: a caption is handled once, with the photos of its album that came before it; photos that come
after it are attached to what it logged, or kept for the answer where it is asked about; an album that
has no caption so far is asked about once; an edit brings no photo a second time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from bot.conversation.model import Incoming, Photo
from storage import Work
from storage.records import Change

_MOST: Final = 10
"""An album has at most ten pictures (Bot API, sendMediaGroup)."""


class Photos:
    """What is known of the photos that a keeper sent last in a chat, kept in the store."""

    def __init__(self, work: Work, keeper_id: int, chat: str) -> None:
        self._work, self._keeper, self._chat = work, keeper_id, chat

    def gather(self, incoming: Incoming, album: str | None, at: datetime) -> Incoming | None:
        """The message to hand on, or ``None`` where it is only one more photo of what was handled."""
        if incoming.edits:
            logged = self._change(incoming.reference) is not None
            return replace(incoming, photos=()) if logged else incoming
        if album is None or not incoming.photos:
            return incoming
        mind = self._mind(album)
        before = [Photo(reference=reference) for reference in mind["photos"]]
        known = bool(before) or mind["caption"] is not None
        if incoming.text:
            mind["caption"] = incoming.reference
        mind["photos"] = [*mind["photos"], *(photo.reference for photo in incoming.photos)][:_MOST]
        self._work.dialogs.set(self._keeper, self._place, mind)
        if incoming.text:
            return replace(incoming, photos=(*before, *incoming.photos))
        self._attach(mind["caption"], incoming, at)
        return None if known else incoming

    @property
    def _place(self) -> str:
        return f"{self._chat}/album"

    def _mind(self, album: str) -> dict[str, Any]:
        mind = self._work.dialogs.get(self._keeper, self._place)
        return mind if mind.get("album") == album else {"album": album, "caption": None, "photos": []}

    def _change(self, reference: str | None) -> Change | None:
        """What a message changed: the conversation marks it with the chat and the message."""
        if reference is None:
            return None
        return self._work.journal.change_by(self._keeper, f"{self._chat}:{reference}")

    def _attach(self, caption: str | None, incoming: Incoming, at: datetime) -> None:
        change = self._change(caption)
        if change is None:
            self._keep_for_the_answer(caption, incoming)
            return
        tags = {tag for row in self._work.journal.entries_of(change.id) for tag in row.entry.specimens}
        tags |= self._work.photos.shown_by(change.id)
        tag = tags.pop() if len(tags) == 1 else None
        for photo in incoming.photos:
            self._work.photos.add(change.id, tag, reference=photo.reference, path=None, at=at)

    def _keep_for_the_answer(self, caption: str | None, incoming: Incoming) -> None:
        """Where the caption led to a question, its answer stores these photos with those that came before."""
        prompt = self._work.prompts.latest(self._keeper, self._chat)
        if caption is None or prompt is None or prompt.answered_at is not None:
            return
        more = [photo.reference for photo in incoming.photos]

        def with_more(kept: Mapping[str, Any]) -> dict[str, Any]:
            of_caption = kept.get("origin") == f"{self._chat}:{caption}"
            return {**kept, "photos": [*kept.get("photos", ()), *more]} if of_caption else dict(kept)

        pending = with_more(prompt.pending) if prompt.pending is not None else None
        self._work.prompts.stand_for(prompt.number, [with_more(one) for one in prompt.actions], pending)
