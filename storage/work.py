"""What can be done within one transaction, by part."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from datetime import date
from functools import cached_property

from sqlalchemy import Connection

from storage.album import Album
from storage.bookmarks import Bookmarks
from storage.dialogs import Dialogs
from storage.fence import fenced, in_service
from storage.handovers import Handovers
from storage.holds import Holds
from storage.inbox import Inbox
from storage.journal import Journal
from storage.keepers import Keepers
from storage.news import News
from storage.outbox import Outbox
from storage.photos import Photos
from storage.prompts import Prompts
from storage.reminders import Reminders
from storage.rounds import Rounds
from storage.schedules import Schedules
from storage.shelves import Shelves


class Work:
    """One transaction. Its parts are made when they are first asked for.

    ``album`` has the photo files beside the store, where there is one. ``afterwards`` are steps that are
    taken once the transaction is committed, and not at all where it is not.
    """

    def __init__(self, connection: Connection, album: Album | None = None) -> None:
        self.connection = connection
        self.album = album
        self.afterwards: list[Callable[[], None]] = []

    def fenced(self, keeper_id: int, on: date) -> AbstractContextManager[None]:
        """Within the block the database shows and takes only what is the keeper's; see storage/fence.py."""
        return fenced(self.connection, keeper_id, on)

    def in_service(self) -> AbstractContextManager[None]:
        """A step out of the fence, for what one keeper's word does to others' rows."""
        return in_service(self.connection)

    @cached_property
    def keepers(self) -> Keepers:
        """Keepers, their contacts and invites."""
        return Keepers(self.connection)

    @cached_property
    def shelves(self) -> Shelves:
        """Who stands on a shelf."""
        return Shelves(self.connection)

    @cached_property
    def journal(self) -> Journal:
        """What happened."""
        return Journal(self.connection)

    @cached_property
    def holds(self) -> Holds:
        """Whose feeding prompts are held."""
        return Holds(self.connection)

    @cached_property
    def schedules(self) -> Schedules:
        """How often groups of animals are to be fed and watered."""
        return Schedules(self.connection)

    @cached_property
    def handovers(self) -> Handovers:
        """Who looks after a shelf for a while."""
        return Handovers(self.connection)

    @cached_property
    def news(self) -> News:
        """What the others of a shelf have still to hear."""
        return News(self.connection)

    @cached_property
    def reminders(self) -> Reminders:
        """What a keeper wants to be told."""
        return Reminders(self.connection)

    @cached_property
    def rounds(self) -> Rounds:
        """The rounds of each day."""
        return Rounds(self.connection)

    @cached_property
    def prompts(self) -> Prompts:
        """What buttons stand for."""
        return Prompts(self.connection)

    @cached_property
    def dialogs(self) -> Dialogs:
        """What a conversation keeps in mind."""
        return Dialogs(self.connection)

    @cached_property
    def inbox(self) -> Inbox:
        """What came in."""
        return Inbox(self.connection)

    @cached_property
    def outbox(self) -> Outbox:
        """What is to go out."""
        return Outbox(self.connection)

    @cached_property
    def bookmarks(self) -> Bookmarks:
        """What a part of the program notes for its next start."""
        return Bookmarks(self.connection)

    @cached_property
    def photos(self) -> Photos:
        """Which picture shows whom."""
        return Photos(self.connection)
