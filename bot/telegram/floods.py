"""A flood from one chat slows that chat alone, and fills neither the store nor the sender's list.

Updates are taken in turn between chats (:mod:`bot.telegram.worker`) and sent at a pace for each chat
(:mod:`bot.telegram.pace`), so what one chat piles up waits behind itself. Here the pile is bounded: what is
too much is set aside and not handled, and a keeper is told so once an hour. Of what is set aside only so much
is kept for each chat, and not for long: a stranger's flood leaves little behind.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from typing import Final

from bot.conversation.model import Reply
from bot.telegram import words
from bot.telegram.admit import FRONT_END
from bot.telegram.outgoing import requests_for
from bot.telegram.post import put
from storage import Work
from storage.records import Outgoing

#: So much may wait of one chat, either way. An evening's notes forwarded at once are a hundred messages, the
#: most that Telegram lets a person forward or that it brings in one answer (Bot API, ``getUpdates``).
MOST_WAITING: Final = 300
#: So many updates of one chat are kept set aside; what comes on top leaves no row.
MOST_ASIDE: Final = 300
WHY: Final = "too much at once from one chat"
#: So many requests to one chat in one look at the outbox, and the next look passes that chat over.
CROWD: Final = 50
_LOOKS: Final = 8


def floods(work: Work, chat: str) -> bool:
    """Whether so much of a chat waits already that more of it is set aside."""
    return (
        work.inbox.waits_in(chat, most=MOST_WAITING) >= MOST_WAITING
        or work.outbox.waits_in(chat, most=MOST_WAITING) >= MOST_WAITING
    )


def overflows(work: Work, chat: str) -> bool:
    """Whether so much of a chat is set aside already that more of it is not even kept."""
    return work.inbox.aside_in(chat, most=MOST_ASIDE) >= MOST_ASIDE


def tell_of_flood(work: Work, chat: str, at: datetime) -> None:
    """Tells a keeper once an hour that not all was taken in; a stranger nothing."""
    keeper = work.keepers.by_contact(FRONT_END, chat)
    if keeper is None:
        return
    with words.spoken_to(keeper):
        requests = requests_for(Reply(text=words.too_much()))
    put(work, requests, keeper_id=None, chat=chat, at=at, key=f"flood:{chat}:{at:%Y%m%d%H}")


def of_all_chats(work: Work, now: datetime, limit: int) -> Sequence[Outgoing]:
    """What waits to be sent, so many rows a look; a chat that crowds the others out is looked past."""
    rows: list[Outgoing] = []
    crowds: set[str] = set()
    for _ in range(_LOOKS):
        found = work.outbox.waiting(now, limit, without=crowds)
        rows += found
        new = {chat for chat, n in Counter(row.chat for row in found).items() if n >= CROWD}
        if len(found) < limit or not new:
            break
        crowds |= new
    return rows
