"""Puts replies into the outbox, in the transaction of what caused them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from bot.conversation.model import Reply
from bot.telegram.admit import FRONT_END
from bot.telegram.outgoing import Request, renewal, requests_for
from storage import Work
from storage.records import Contact, Outgoing


class Post:
    """The way out of this front end, for what answers a message and for what comes by the clock."""

    front_end = FRONT_END

    def home(self, contacts: Iterable[Contact]) -> str | None:
        """The chat in which a keeper is spoken to unasked: the private one, else a linked group."""
        own = [contact.address for contact in contacts if contact.front_end == FRONT_END]
        return min(own, key=lambda address: (address.startswith("-"), address), default=None)

    def nudge(
        self, work: Work, *, keeper_id: int, chat: str, replies: Sequence[Reply], key: str, at: datetime
    ) -> bool:
        """Posts what nobody asked for, once for each ``key``. False where it was posted before."""
        requests = [request for reply in replies for request in requests_for(reply)]
        return bool(put(work, requests, keeper_id=keeper_id, chat=chat, at=at, key=key, nudge=True))


def renew(work: Work, replies: Iterable[Reply], *, at: datetime) -> list[Outgoing]:
    """Puts into the outbox the replies that are edits of earlier messages, each in the message's own chat."""
    return [
        row
        for reply in replies
        if reply.renews is not None
        for row in put(work, renewal(reply), keeper_id=reply.renews.keeper_id, chat=reply.renews.chat, at=at)
    ]


def put(
    work: Work,
    requests: Sequence[Request],
    *,
    keeper_id: int | None,
    chat: str,
    at: datetime,
    key: str | None = None,
    nudge: bool = False,
) -> list[Outgoing]:
    """Puts requests into the outbox, in order; what was put, as it stands there.

    With a ``key`` all or none are put: none where the first one's key is there already.
    """
    made: list[Outgoing] = []
    for index, request in enumerate(requests):
        payload: dict[str, Any] = request.to_json() | ({"nudge": True} if nudge else {})
        own_key = f"{key}/{index}" if key and index else key
        number = work.outbox.put(
            keeper_id=keeper_id, chat=chat, method=request.method, payload=payload, at=at, key=own_key
        )
        if number is None:
            return made
        made.append(
            Outgoing(
                id=number,
                keeper_id=keeper_id,
                chat=chat,
                method=request.method,
                payload=payload,
                key=own_key,
                at=at,
                not_before=at,
                tries=0,
            )
        )
    return made
