"""What the store hands out: plain frozen values, free of any connection to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from enum import StrEnum
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from bot.husbandry.watering import Air
from bot.terms import Entry, KeeperSettings, Specimen
from bot.terms.schedule import Schedule
from bot.terms.value_object import value_object


class Role(StrEnum):
    """As what a keeper sees a shelf."""

    OWNER = "owner"
    PARTNER = "partner"
    HELPER = "helper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Keeper:
    """A keeper. ``shelf_id`` is their own shelf, ``paused`` that they stopped the bot,
    ``settled`` that the questions of the first day are answered, ``next_round_at`` aware UTC."""

    id: int
    name: str
    settings: KeeperSettings
    settled: bool
    paused: bool
    shelf_id: int
    next_round_at: datetime | None

    @property
    def is_erased(self) -> bool:
        """Whether nothing but a number is left of them; a keeper who is there has a name."""
        return not self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """Where a keeper is reached: an address at a front end."""

    front_end: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Membership:
    """A shelf that a keeper may see, and as what."""

    shelf_id: int
    role: Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What holds for all who stand on a shelf: the latest reading of the ``air`` by place, that of the whole
    room under an empty name, and how often the keeper wants groups of them fed and watered."""

    air: Mapping[str, Air]
    schedule: Schedule


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover:
    """A period, both days inclusive, in which somebody else looks after a shelf.

    ``by`` is the keeper who handed it over, ``called`` what they call the helper; ``helper`` is ``None``
    until the invitation is opened. ``settled`` tells that the keeper has had the summary.
    """

    id: int
    shelf_id: int
    by: int
    called: str
    first: date
    last: date
    helper: int | None
    settled: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredSpecimen:
    """A specimen as it is now. ``specimen`` has the current sex, stage, span and number in the lot
    (0 once it is gone); ``position`` is its key in the order of the shelf."""

    id: int
    specimen: Specimen
    added_on: date
    gone_on: date | None
    position: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """All that one message did.

    ``origin`` is ``<chat>:<message>``, or ``import:<file>``. Two front ends may have the same, so that it
    tells a message apart only together with the shelf or the keeper. ``None``: of no message, or one erased.
    """

    id: int
    shelf_id: int
    keeper_id: int
    at: datetime
    origin: str | None
    undone_at: datetime | None


class Owned(NamedTuple):
    """A stored entry with the number of its specimen; ``None`` where it belongs to the shelf."""

    specimen_id: int | None
    entry: Entry


@value_object(kw_only=True)
class JournalEntry:
    """A stored entry: ``entry.specimens`` is one tag, or none where it belongs to the shelf.

    ``zone`` is the name of the zone in which its day and time are meant, ``by`` the keeper who
    recorded it. ``live`` tells that its own change is in force and no change in force supersedes it.
    ``specimen_id`` tells apart those that bore the same tag, one after the other.
    """

    id: int
    change_id: int
    entry: Entry
    recorded_at: datetime
    zone: str
    by: int
    live: bool
    specimen_id: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """Feeding prompts are held since a day, perhaps until one."""

    since: date
    until: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredReminder:
    """A reminder that is open. ``day`` and ``time`` are the wall time asked for, in ``zone``.

    ``repeats`` is an RFC 5545 rule that begins on ``day``; ``from_done``: it is counted from when the thing
    was done, and from its day only as long as nothing is heard of it. ``of_round``: it is no word of the
    keeper's, but a second look at what is left of the day's round.
    """

    id: int
    shelf_id: int
    keeper_id: int
    change_id: int
    what: str
    tags: tuple[str, ...]
    next_at: datetime
    day: date | None
    time: time | None
    repeats: str | None
    from_done: bool
    of_round: bool
    zone: str

    @property
    def on_the_wall(self) -> datetime:
        """When it comes next, by the clock on the wall in its zone."""
        return self.next_at.astimezone(ZoneInfo(self.zone))


@dataclass(frozen=True, slots=True)
class ShownRound:
    """A message that shows a round: its chat, the prompt of its buttons, and a mark of what it shows."""

    chat: str
    prompt: int
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Occurrence:
    """One day's round of a keeper.

    ``due_at`` is when it comes by itself: after ``opened_at`` while it was only asked for. ``shown_in`` are
    the messages that show it, the newest of each chat.
    """

    id: int
    keeper_id: int
    shelf_id: int
    day: date
    due_at: datetime
    tasks: tuple[Mapping[str, Any], ...]
    opened_at: datetime
    closed_at: datetime | None
    shown_in: tuple[ShownRound, ...] = ()

    @property
    def is_to_come(self) -> bool:
        """Whether it was asked for, and has still to come at its time."""
        return self.due_at > self.opened_at


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredNews:
    """A change of a shelf, made or taken back ``at`` a moment, that a keeper has still to hear of."""

    id: int
    shelf_id: int
    change_id: int
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Prompt:
    """What the buttons of a reply stand for."""

    number: int
    keeper_id: int
    chat: str
    actions: tuple[Mapping[str, Any], ...]
    pending: Mapping[str, Any] | None
    change_id: int | None
    message_ref: str | None
    at: datetime
    answered_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Inboxed:
    """An update that waits to be handled."""

    id: int
    source: str
    update_id: int
    chat: str
    payload: Mapping[str, Any]
    at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Outgoing:
    """A request that waits to be sent. ``tries`` counts the tries that did not succeed."""

    id: int
    keeper_id: int | None
    chat: str
    method: str
    payload: Mapping[str, Any]
    key: str | None
    at: datetime
    not_before: datetime
    tries: int
    why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredPhoto:
    """A picture: the front end's reference to it, and where its file lies in the album.

    ``path`` is ``None`` until it was fetched, and empty where it could not be.
    """

    id: int
    shelf_id: int
    change_id: int
    tag: str | None
    reference: str
    path: str | None
    at: datetime
    size: tuple[int, int] | None = field(default=None)
