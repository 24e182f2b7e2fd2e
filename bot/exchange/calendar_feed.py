"""What is due, as an iCalendar file (RFC 5545) for any calendar program.

Each animal's next meal and next water are one event each, whose UID stays the same, so that a newer file
moves them instead of adding more. Reminders keep their wall time in the keeper's zone and their repetition.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final
from zoneinfo import ZoneInfo

if TYPE_CHECKING:
    from icalendar import Event

_DAY: Final = timedelta(days=1)
_MOMENT: Final = timedelta(minutes=15)


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDay:
    """Something due on a day. ``what`` tells it from what else is due for the same animal."""

    tag: str
    what: str
    day: date
    summary: str
    description: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DueMoment:
    """A reminder at a wall time of a zone, repeated by an RFC 5545 rule where that is said."""

    number: int
    at: datetime
    zone: str
    summary: str
    repeats: str | None = None


def feed(days: Sequence[DueDay], moments: Sequence[DueMoment], *, now: datetime, name: str) -> bytes:
    """The file. ``now`` is an aware instant; it is the stamp of every event (RFC 5545 §3.8.7.2)."""
    from icalendar import Calendar, vRecur  # noqa: PLC0415  half a second, needed by few commands

    calendar = Calendar()
    calendar.add("prodid", "-//Burrowbell//shelf//EN")
    calendar.add("version", "2.0")
    calendar.calendar_name = name
    for due in days:
        event = _event(f"{due.what}-{due.tag}", due.summary, now)
        event.add("dtstart", due.day)
        event.add("dtend", due.day + _DAY)
        event.add("transp", "TRANSPARENT")
        if due.description:
            event.add("description", due.description)
        calendar.add_component(event)
    for moment in moments:
        event = _event(f"reminder-{moment.number}", moment.summary, now)
        start = moment.at.astimezone(ZoneInfo(moment.zone))
        event.add("dtstart", start)
        event.add("dtend", start + _MOMENT)
        if moment.repeats is not None:
            event.add("rrule", vRecur.from_ical(moment.repeats))
        calendar.add_component(event)
    calendar.add_missing_timezones()
    return bytes(calendar.to_ical())


def _event(uid: str, summary: str, now: datetime) -> Event:
    from icalendar import Event  # noqa: PLC0415

    event = Event()
    event.add("uid", f"{uid}@shelf.burrowbell.invalid")
    event.add("dtstamp", now)
    event.add("summary", summary)
    return event
