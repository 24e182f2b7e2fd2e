"""The calendar file, read back by icalendar and expanded by recurring-ical-events."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import recurring_ical_events
from icalendar import Calendar

from bot.exchange.calendar_feed import DueDay, DueMoment, feed

NOW = datetime(2026, 3, 20, 9, 0, tzinfo=UTC)
MEAL = DueDay(tag="C1", what="feed", day=date(2026, 3, 22), summary="Feed Ink (C1)")


def read(raw: bytes) -> Calendar:
    return Calendar.from_ical(raw)


def test_what_is_due_is_a_whole_day_that_blocks_nothing():
    (event,) = read(feed([MEAL], [], now=NOW, name="Shelf")).walk("VEVENT")
    assert event["dtstart"].dt == date(2026, 3, 22)
    assert event["dtend"].dt == date(2026, 3, 23)  # RFC 5545 §3.6.1: the end is not part of it
    assert event["transp"] == "TRANSPARENT"
    assert event["dtstamp"].dt == NOW


def test_a_newer_file_moves_an_event_instead_of_adding_one():
    later = DueDay(tag="C1", what="feed", day=date(2026, 3, 29), summary="Feed Ink (C1)")
    uids = [
        event["uid"]
        for due in (MEAL, later)
        for event in read(feed([due], [], now=NOW, name="S")).walk("VEVENT")
    ]
    assert uids[0] == uids[1]


def test_a_repeated_reminder_keeps_its_wall_time_over_a_clock_change():
    # Europe/London goes to summer time on 2026-03-29 at 01:00 UTC (tzdata 2026)
    london = ZoneInfo("Europe/London")
    moment = DueMoment(
        number=7,
        at=datetime(2026, 3, 27, 8, 0, tzinfo=london).astimezone(UTC),
        zone="Europe/London",
        summary="mist D",
        repeats="FREQ=DAILY;INTERVAL=3",
    )
    calendar = read(feed([], [moment], now=NOW, name="Shelf"))
    events = recurring_ical_events.of(calendar).between(date(2026, 3, 27), date(2026, 4, 6))
    starts = [event["dtstart"].dt.astimezone(london) for event in events]
    assert [(start.day, start.hour) for start in starts] == [(27, 8), (30, 8), (2, 8), (5, 8)]
    assert starts[1].astimezone(UTC).hour == 7
    assert [zone["tzid"] for zone in calendar.walk("VTIMEZONE")] == ["Europe/London"]


def test_a_single_reminder_comes_once():
    moment = DueMoment(number=8, at=NOW + timedelta(days=1), zone="UTC", summary="check the sac")
    calendar = read(feed([], [moment], now=NOW, name="Shelf"))
    assert len(recurring_ical_events.of(calendar).between(date(2026, 3, 1), date(2027, 3, 1))) == 1


def test_text_is_escaped_and_folded_as_rfc_5545_has_it():
    # RFC 5545 §3.3.11 (TEXT) and §3.1 (lines of at most 75 octets, no UTF-8 sequence split)
    told = "Tank 3, B. hamorii; note: path C:\\x\nline2 " + "ü🕷" * 40
    raw = feed([DueDay(tag="C1", what="feed", day=date(2026, 3, 22), summary=told)], [], now=NOW, name="S")
    assert b"Tank 3\\, B. hamorii\\; note: path C:\\\\x\\nline2" in raw.replace(b"\r\n ", b"")
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    for line in raw.split(b"\r\n"):
        line.decode()
    (event,) = read(raw).walk("VEVENT")
    assert str(event["summary"]) == told
