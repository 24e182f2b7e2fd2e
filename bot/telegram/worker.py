"""Handles what waits in the inbox: each update in one transaction with its replies and its mark as done.

Rules: in order within a chat, in turn between chats; of several workers one has an update in hand. What
cannot be read is set aside, kept, and never tried again; so is what the conversation trips over, and then
the keeper is told that nothing was stored. While the store itself cannot be used, the update waits.
"""

from __future__ import annotations

import logging
import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Final, Protocol

from bot.conversation.model import Incoming, Reply
from bot.telegram import invites, menu, words
from bot.telegram.admit import FRONT_END, Admission, Door, may_invite
from bot.telegram.deep_link import TagLink, link, payload_for_invite, what_is_asked
from bot.telegram.outgoing import Request, answer_to, requests_for
from bot.telegram.photos import Photos
from bot.telegram.post import put, renew
from bot.telegram.redaction import kind_of
from bot.telegram.translate import (
    Heard,
    Me,
    Moved,
    Passed,
    Standing,
    UnreadableUpdateError,
    translate,
)
from bot.terms import KeeperSettings
from bot.watch import Figures
from storage import Store, Work, codes
from storage.errors import StoreUnavailableError
from storage.records import Inboxed, Keeper, Outgoing, Role

_log = logging.getLogger(__name__)

#: What a scanned label says in plain words.
_SCANNED: Final = "status of {tag}"
_MOST: Final = 50
#: How many of those a worker takes up that is not alone, before it looks anew what the others left.
_AT_A_TIME: Final = 8


class Talks(Protocol):
    """The conversation, as far as a front end needs it."""

    def learn(self, languages: Iterable[str]) -> None:
        """Makes ready what talking in some languages takes."""

    def respond(self, work: Work, keeper: Keeper, chat: str, incoming: Incoming) -> list[Reply]:
        """Replies to a message or a press."""

    def greet(self, work: Work, keeper: Keeper, chat: str, at: datetime) -> list[Reply]:
        """The first words to a keeper."""


class Plans(Protocol):
    """The clock, as far as a front end needs it."""

    def plan(self, work: Work, keeper: Keeper, at: datetime) -> None:
        """Sets when the keeper's next round falls due, by the settings as they are now."""


class Worker:
    """Takes what waits, in turn. Blocking: meant for a thread of its own."""

    def __init__(
        self,
        store: Store,
        *,
        me: Me,
        door: Door,
        talks: Talks,
        plans: Plans,
        now: Callable[[], datetime],
        figures: Figures | None = None,
    ) -> None:
        self._store, self._me, self._door = store, me, door
        self._alone = store.engine.dialect.name == "sqlite"
        self._talks, self._plans, self._now = talks, plans, now
        self._figures = figures or Figures()

    def get_ready(self) -> None:
        """Has the conversation learn the keepers' languages, outside any write that others would wait for."""
        with self._store.look() as work:
            languages = {KeeperSettings().language, *work.keepers.languages()}
        self._talks.learn(sorted(languages))

    def waiting(self) -> tuple[Inboxed, ...]:
        """The oldest waiting update of each chat; some of them at random where other workers may be at it.

        Workers that all began with the same ones would mostly find each other's hand on them.
        """
        with self._store.look() as work:
            rows = work.inbox.waiting(_MOST)
        if self._alone:
            return rows
        return tuple(random.sample(rows, min(_AT_A_TIME, len(rows))))

    def handle(self, row: Inboxed) -> list[Outgoing]:
        """Handles one update; what is to be sent, as it now stands in the outbox.

        Raises :class:`StoreUnavailableError` where the store cannot be used: then nothing happened.
        """
        try:
            with self._figures.timed("take in"), self._store.begin() as work:
                if not work.inbox.take(row.id):
                    return []  # another worker has it in hand, or had
                sent = self._take_in(work, row)
                work.inbox.done(row.id, at=self._now())
            self._figures.update("handled")
            return sent
        except StoreUnavailableError:
            raise
        except UnreadableUpdateError as why:
            _log.warning("an update cannot be read", extra={"update": row.update_id, "why": str(why)})
            self._figures.update("unreadable")
            return self._set_aside(row, f"unreadable: {why}", say=False)
        except Exception as slip:
            _log.exception("an update could not be handled", extra={"update": row.update_id})
            self._figures.update("set_aside")
            return self._set_aside(row, kind_of(slip), say=True)

    def _set_aside(self, row: Inboxed, why: str, *, say: bool) -> list[Outgoing]:
        with self._store.begin() as work:
            work.inbox.set_aside(row.id, why, at=self._now())
            requests = [answer_to(query)] if (query := _query(row.payload)) else []
            if say and self._door.knows(work, row.chat):
                with words.spoken_to(work.keepers.by_contact(FRONT_END, row.chat)):
                    requests += requests_for(Reply(text=words.not_taken_in()))
            return put(work, requests, keeper_id=None, chat=row.chat, at=self._now(), key=f"aside:{row.id}")

    # --- by what was heard

    def _take_in(self, work: Work, row: Inboxed) -> list[Outgoing]:
        found = translate(row.payload, received_at=row.at, me=self._me)
        match found:
            case Heard():
                return self._hear(work, found)
            case Standing():
                return self._note_standing(work, found)
            case Moved(old=old, new=new):
                work.keepers.readdress(FRONT_END, str(old), str(new))
            case Passed(callback=str(query)):
                return put(work, [answer_to(query)], keeper_id=None, chat=row.chat, at=self._now())
        return []

    def _hear(self, work: Work, heard: Heard) -> list[Outgoing]:
        with words.spoken_to(work.keepers.by_contact(FRONT_END, str(heard.person.id))):
            return self._answer(work, heard)

    def _answer(self, work: Work, heard: Heard) -> list[Outgoing]:
        chat, at = str(heard.chat), self._now()
        admission = self._door.admit(work, heard, at)
        if admission.keeper is None:
            return self._turn_away(work, heard, admission, at)
        keeper = admission.keeper
        requests = [answer_to(heard.callback)] if heard.callback else []
        replies = self._replies(work, keeper, heard, admission, at)
        for reply in replies:
            requests += requests_for(reply, pressed=heard.shown) if reply.renews is None else []
        if work.keepers.by_contact(FRONT_END, str(heard.person.id)) is None:  # erased on their own word
            return put(work, requests, keeper_id=None, chat=chat, at=at)
        after = work.keepers.get(keeper.id)
        if after.settings != keeper.settings or after.next_round_at is None:
            self._plans.plan(work, after, at)
        sent = put(work, requests, keeper_id=keeper.id, chat=chat, at=at)
        return sent + renew(work, replies, at=at)

    def _replies(
        self, work: Work, keeper: Keeper, heard: Heard, admission: Admission, at: datetime
    ) -> list[Reply]:
        chat = str(heard.chat)
        said = [Reply(text=admission.said)] if admission.said else []
        incoming = heard.incoming
        if heard.command is not None:
            if heard.command.name == menu.INVITE:
                return [*said, self._invite(work, keeper, heard, at)]
            scanned = what_is_asked(heard.command.rest)
            if not isinstance(scanned, TagLink):
                return [*said, *self._talks.greet(work, keeper, chat, at)]
            incoming = replace(heard.incoming, text=_SCANNED.format(tag=scanned.tag))
        if admission.new:
            said += self._talks.greet(work, keeper, chat, at)
        whole = Photos(work, keeper.id, chat).gather(incoming, heard.album, at)
        return said if whole is None else [*said, *self._talks.respond(work, keeper, chat, whole)]

    def _invite(self, work: Work, keeper: Keeper, heard: Heard, at: datetime) -> Reply:
        if not heard.private or not may_invite(work, keeper, at):
            return Reply(text=words.invite_alone())
        if work.keepers.open_invites(keeper.id, at) >= invites.MOST_OPEN:
            return Reply(text=words.invites_open())
        code = codes.new_code()
        work.keepers.invite(
            keeper.shelf_id,
            role=Role.PARTNER,
            code_hash=codes.hash_of(code),
            by=keeper.id,
            expires_at=at + invites.HOLDS_FOR,
            at=at,
        )
        return Reply(text=words.invite(link(self._me.username, payload_for_invite(code))))

    def _turn_away(self, work: Work, heard: Heard, admission: Admission, at: datetime) -> list[Outgoing]:
        if heard.callback:
            requests: Sequence[Request] = [answer_to(heard.callback, admission.said)]
        else:
            requests = requests_for(Reply(text=admission.said))
        return put(work, requests, keeper_id=None, chat=str(heard.chat), at=at, key=admission.once)

    def _note_standing(self, work: Work, standing: Standing) -> list[Outgoing]:
        keeper = work.keepers.by_contact(FRONT_END, str(standing.person.id))
        if keeper is None:
            return []
        if standing.private:
            change = work.keepers.resume if standing.present else work.keepers.pause
            change(keeper.id)
            return []
        linked = work.keepers.by_contact(FRONT_END, str(standing.chat))
        if not standing.present or linked is not None:
            return []
        with words.spoken_to(keeper):
            requests = requests_for(Reply(text=words.group_not_linked(self._me.username)))
        return put(work, requests, keeper_id=keeper.id, chat=str(standing.chat), at=self._now())


def _query(update: Mapping[str, Any]) -> str | None:
    """The id of a button press that must be answered, even in an update that cannot be read."""
    query = update.get("callback_query")
    found = query.get("id") if isinstance(query, Mapping) else None
    return found if isinstance(found, str) else None
