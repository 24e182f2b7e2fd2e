"""What the front end itself says: about being let in, about groups, about messages that may be missing.

The sentences stand with those of the conversation, in each language; they are of the language that is spoken
(:func:`bot.terms.language.speaking`), which is a keeper's own and, for a stranger, the first.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.conversation import wording
from bot.conversation.texts import say
from bot.terms.language import LANGUAGES, speaking
from storage.records import Keeper


def spoken_to(keeper: Keeper | None) -> AbstractContextManager[None]:
    """Within it all is said in a keeper's language; to a stranger in the first."""
    return speaking(keeper.settings.language if keeper is not None else LANGUAGES[0])


def stranger() -> str:
    """To one whom nobody invited."""
    return say("telegram.stranger")


def not_yours() -> str:
    """To one who presses buttons of another shelf."""
    return say("telegram.not_yours")


def invite_refused() -> str:
    """An invitation that was used, or is too old."""
    return say("telegram.invite_refused")


def too_many_tries() -> str:
    """More invitations tried than anybody is sent."""
    return say("telegram.too_many_tries")


def joined() -> str:
    """To one who shares a shelf from now on."""
    return say("telegram.joined")


def has_a_shelf() -> str:
    """To a keeper who opens an invitation."""
    return say("telegram.has_a_shelf")


def not_taken_in() -> str:
    """A message that was set aside."""
    return say("telegram.not_taken_in")


def group_greeting() -> str:
    """The first words in a group that is linked to a shelf."""
    return say("telegram.group_greeting")


def group_already_linked() -> str:
    """To a keeper in a group of another shelf."""
    return say("telegram.group_already_linked")


def invite_alone() -> str:
    """An invitation asked for where others read along."""
    return say("telegram.invite_alone")


def invites_open() -> str:
    """More invitations than may be open."""
    return say("telegram.invites_open")


def too_much() -> str:
    """More messages than are kept."""
    return say("telegram.too_much")


def file_lost() -> str:
    """In place of a file that is not there any more."""
    return say("telegram.file_lost")


def group_not_linked(bot: str) -> str:
    """How a group is linked; ``bot`` is the bot's user name."""
    return say("telegram.group_not_linked", bot=bot)


def invite(link: str) -> str:
    """An invitation to send on."""
    return say("telegram.invite", link=link)


def outage(since: datetime, kept: datetime, until: datetime, zone: str) -> str:
    """The notice after a long silence, with the moments as the keeper's clock shows them."""
    today = until.astimezone(ZoneInfo(zone)).date()

    def shown(at: datetime) -> str:
        local = at.astimezone(ZoneInfo(zone))
        return f"{wording.date_of(local.date(), today)} {wording.clock(local)}"

    return say("telegram.outage", since=shown(since), kept=shown(kept), until=shown(until))
