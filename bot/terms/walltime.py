"""A time on the wall as an instant."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo


def instant_of(day: date, wall: time, zone: str) -> datetime:
    """The instant, in UTC, at which it is ``wall`` o'clock on ``day`` in the zone of an IANA name.

    RFC 5545 section 3.3.5: in a gap the offset before the gap counts, of two occurrences the first.
    """
    # fold=0 is just the rule of the RFC: the offset before a gap, the first of two occurrences (PEP 495)
    return datetime.combine(day, wall.replace(fold=0), tzinfo=ZoneInfo(zone)).astimezone(UTC)
