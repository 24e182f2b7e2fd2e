"""What the front end itself says: about being let in, about groups, about messages that may be missing.

Everything about the shelf is worded by the conversation.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

STRANGER: Final = (
    "This is a private bot and I do not know you. If a keeper invited you, open the link of the invitation."
)
NOT_YOURS: Final = "These buttons are for the keepers of this shelf."
INVITE_REFUSED: Final = (
    "That invitation does not hold: it was used, or it is too old. Ask for a new one and open its link."
)
TOO_MANY_TRIES: Final = "That was one try too many. Wait an hour, then open the link of a new invitation."
JOINED: Final = "You share the shelf now."
HAS_A_SHELF: Final = "You are a keeper here already, so the invitation was left unused."
NOT_TAKEN_IN: Final = (
    "Sorry, I could not take that in: nothing of it was stored. It is kept for the one who looks after me; "
    "please write it in another way."
)
GROUP_GREETING: Final = (
    "I answer here for this shelf's keepers. Of this group I see only what names me, answers me, "
    "or starts with a stroke such as /round: what I did not confirm is not in the journal."
)
GROUP_NOT_LINKED: Final = (
    "To use this group for your shelf, write /start@{bot} here. All members will see what I answer."
)
GROUP_ALREADY_LINKED: Final = "This group belongs to another shelf, and I answer only its keepers here."
INVITE_ALONE: Final = "Ask me for an invitation in our private chat: whoever opens the link gets in."
INVITES_OPEN: Final = "You have made as many invitations as may be open at once. Each ends within two days."
INVITE: Final = (
    "This link lets one person share your shelf: they can log, correct and read everything on it. "
    "It works once, within two days.\n{link}"
)
TOO_MUCH: Final = (
    "That was more than I can take in at once: from some point on, messages were not read. "
    "Please wait for my answers, look which was the last, and send the rest again."
)
FILE_LOST: Final = "The file was lost on its way. Please ask for it again."
OUTAGE: Final = (
    "I could not be reached from {since} to {until}. Telegram keeps messages for a day: what you wrote "
    "before {kept} may not have come to me. Please look at your journal and write again what is missing."
)


def outage(since: datetime, kept: datetime, until: datetime, zone: str) -> str:
    """The notice after a long silence, with the moments as the keeper's clock shows them."""
    shown = {
        name: f"{at.astimezone(ZoneInfo(zone)):%a %d %b %H:%M}"
        for name, at in (("since", since), ("kept", kept), ("until", until))
    }
    return OUTAGE.format(**shown)
