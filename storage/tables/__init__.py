"""The tables. The classes say what the schema is; the migrations make it; a test holds them equal."""

from storage.tables.base import METADATA, Stored, table_of
from storage.tables.journal import ChangeRow, EntryRow, PhotoRow, SupersessionRow
from storage.tables.people import (
    ContactRow,
    DialogRow,
    HandoverRow,
    InviteRow,
    KeeperRow,
    MembershipRow,
    ShelfRow,
)
from storage.tables.post import (
    BookmarkRow,
    InboxRow,
    NewsRow,
    OccurrenceRow,
    OutboxRow,
    PromptRow,
    ReminderRow,
    ReminderSpecimenRow,
)
from storage.tables.shelf import AlterationRow, HoldRow, PlaceRow, ScheduleRow, SpecimenRow, StateRow

__all__ = ["METADATA", "Stored"]

keeper = table_of(KeeperRow)
contact = table_of(ContactRow)
shelf = table_of(ShelfRow)
membership = table_of(MembershipRow)
invite = table_of(InviteRow)
handover = table_of(HandoverRow)
dialog = table_of(DialogRow)
place = table_of(PlaceRow)
specimen = table_of(SpecimenRow)
alteration = table_of(AlterationRow)
state = table_of(StateRow)
hold = table_of(HoldRow)
schedule = table_of(ScheduleRow)
change = table_of(ChangeRow)
entry = table_of(EntryRow)
supersession = table_of(SupersessionRow)
photo = table_of(PhotoRow)
bookmark = table_of(BookmarkRow)
inbox = table_of(InboxRow)
outbox = table_of(OutboxRow)
prompt = table_of(PromptRow)
news = table_of(NewsRow)
occurrence = table_of(OccurrenceRow)
reminder = table_of(ReminderRow)
reminder_specimen = table_of(ReminderSpecimenRow)
