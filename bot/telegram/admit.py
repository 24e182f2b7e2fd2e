"""Who is answered. Private by default: keepers of the settings, those invited, and linked groups.

- Alone with the bot: a keeper is known by their Telegram user id; one listed in the settings becomes
  a keeper with the first message, a stranger only by an invitation. Other strangers get one line,
  once, and silence after that.
- In a group: a keeper whose shelf the group was linked to. Nobody else, and no other group, gets a
  word. A keeper links a group by writing ``/start`` in it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from bot.telegram import menu, words
from bot.telegram.deep_link import InviteLink, what_is_asked
from bot.telegram.invites import Tries
from bot.telegram.translate import Heard
from bot.terms import KeeperSettings
from storage import Work
from storage.codes import hash_of
from storage.records import Keeper, Role

FRONT_END: Final = "telegram"


@dataclass(frozen=True, slots=True, kw_only=True)
class Admission:
    """Whether a message is let through to the conversation, and what is said at the door.

    ``keeper`` is set where it is let through; ``new`` that the keeper came in just now. ``said`` is
    a line in place of, or before, the conversation's replies; ``once`` a key under which that
    line is sent once and never again.
    """

    keeper: Keeper | None = None
    new: bool = False
    said: str = ""
    once: str | None = None


_SILENCE: Final = Admission()


class Door:
    """Decides about every message and button press."""

    def __init__(self, listed: Collection[int]) -> None:
        self._listed = frozenset(listed)
        self._tries = Tries()

    def admit(self, work: Work, heard: Heard, at: datetime) -> Admission:
        """Who it is and whether they are answered. Makes keepers, redeems invitations, links groups."""
        if not heard.private:
            return self._in_group(work, heard)
        keeper = work.keepers.by_contact(FRONT_END, str(heard.person.id))
        code = _code(heard)
        if code:
            return self._with_invitation(work, heard, code, keeper, at)
        if keeper is not None:
            return _back(work, keeper)
        if heard.person.id in self._listed:
            return self._first_time(work, heard, at)
        return _stranger(heard)

    def knows(self, work: Work, chat: str) -> bool:
        """Whether a chat is a keeper's, or of one who may become one."""
        return work.keepers.by_contact(FRONT_END, chat) is not None or int(chat) in self._listed

    def _first_time(self, work: Work, heard: Heard, at: datetime) -> Admission:
        keeper = work.keepers.create(heard.person.name, KeeperSettings(), at=at)
        work.keepers.link(keeper.id, FRONT_END, str(heard.person.id))
        return Admission(keeper=keeper, new=True)

    def _with_invitation(
        self, work: Work, heard: Heard, code: str, known: Keeper | None, at: datetime
    ) -> Admission:
        if known is not None and _has_specimens(work, known):
            return Admission(said=words.has_a_shelf())
        if not self._tries.one_more(heard.person.id, at):
            return Admission(said=words.too_many_tries(), once=f"tries:{heard.person.id}:{at:%Y%m%d%H}")
        keeper = work.keepers.redeem(
            hash_of(code),
            name=heard.person.name,
            front_end=FRONT_END,
            address=str(heard.person.id),
            settings=KeeperSettings(),
            at=at,
        )
        if keeper is None:
            return Admission(said=words.invite_refused())
        shares = any(m.role is Role.PARTNER for m in work.shelves.of(keeper.id, on=at.date()))
        said = words.joined() if shares else ""
        return Admission(keeper=keeper, new=known is None, said=said)

    def _in_group(self, work: Work, heard: Heard) -> Admission:
        keeper = work.keepers.by_contact(FRONT_END, str(heard.person.id))
        if keeper is None or not heard.mine:
            return Admission(said=words.not_yours()) if heard.callback else _SILENCE
        owner = work.keepers.by_contact(FRONT_END, str(heard.chat))
        if owner is None:
            return _link(work, heard, keeper)
        shared = {m.shelf_id for m in work.shelves.of(keeper.id, on=heard.incoming.sent_at.date())}
        if owner.shelf_id not in shared:
            return Admission(said=words.group_already_linked())
        if _starts(heard):
            return Admission(said=words.group_greeting())
        return Admission(keeper=keeper)


def may_invite(work: Work, keeper: Keeper, at: datetime) -> bool:
    """Whether a keeper owns a shelf to share; who only came to help has none."""
    if work.handovers.helps_only(keeper.id) and not _has_specimens(work, keeper):
        return False
    owned = {m.shelf_id for m in work.shelves.of(keeper.id, on=at.date()) if m.role is Role.OWNER}
    return keeper.shelf_id in owned


def _starts(heard: Heard) -> bool:
    return heard.command is not None and heard.command.name == menu.START


def _code(heard: Heard) -> str:
    """The code of an invitation that was opened, or nothing."""
    if heard.command is None or heard.command.name != menu.START:
        return ""
    asked = what_is_asked(heard.command.rest)
    return asked.code if isinstance(asked, InviteLink) else ""


def _back(work: Work, keeper: Keeper) -> Admission:
    if keeper.paused:  # who writes has not blocked the bot any more
        work.keepers.resume(keeper.id)
        keeper = work.keepers.get(keeper.id)
    return Admission(keeper=keeper)


def _has_specimens(work: Work, keeper: Keeper) -> bool:
    return bool(work.shelves.specimens(keeper.shelf_id))


def _stranger(heard: Heard) -> Admission:
    if heard.callback:
        return Admission(said=words.not_yours())
    if heard.incoming.edits:
        return _SILENCE
    return Admission(said=words.stranger(), once=f"stranger:{heard.person.id}")


def _link(work: Work, heard: Heard, keeper: Keeper) -> Admission:
    if not _starts(heard):
        return _SILENCE
    work.keepers.link(keeper.id, FRONT_END, str(heard.chat))
    return Admission(said=words.group_greeting())
