"""Which time zone a keeper's words mean: a city, a zone's name, the time now, or an offset. Pure."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from functools import cache
from typing import Final
from zoneinfo import ZoneInfo, available_timezones

from bot.reading.wanted_words import wall_time

#: One well-known city for most offsets and rules of the world, west to east, to be offered on a button.
CITIES: Final = (
    "Pacific/Honolulu", "America/Anchorage", "America/Los_Angeles", "America/Denver", "America/Phoenix",
    "America/Chicago", "America/Mexico_City", "America/New_York", "America/Bogota", "America/Halifax",
    "America/Santiago", "America/St_Johns", "America/Sao_Paulo", "America/Argentina/Buenos_Aires",
    "Atlantic/Azores", "Europe/London", "Europe/Dublin", "Europe/Lisbon", "Africa/Lagos", "Europe/Berlin",
    "Europe/Paris", "Europe/Warsaw", "Europe/Athens", "Europe/Helsinki", "Africa/Johannesburg",
    "Europe/Istanbul", "Europe/Moscow", "Asia/Dubai", "Asia/Tehran", "Asia/Karachi", "Asia/Kolkata",
    "Asia/Kathmandu", "Asia/Dhaka", "Asia/Bangkok", "Asia/Jakarta", "Asia/Singapore", "Asia/Manila",
    "Australia/Perth", "Asia/Tokyo", "Australia/Darwin", "Australia/Adelaide", "Australia/Brisbane",
    "Australia/Sydney", "Australia/Lord_Howe", "Pacific/Auckland", "Pacific/Chatham",
)  # fmt: skip

#: What a newcomer is offered first.
FIRST_CITIES: Final = (
    "Europe/London", "Europe/Berlin", "Europe/Warsaw", "Europe/Athens", "America/New_York", "America/Chicago",
    "America/Denver", "America/Los_Angeles", "Australia/Sydney", "Asia/Tokyo",
)  # fmt: skip

_OFFSET: Final = re.compile(r"(?:utc|gmt|z)?\s*([+-])\s*(\d{1,2})(?::?(\d{2}))?", re.I)
_FIXED: Final = re.compile(r"etc/.*|[a-z]{3,4}(?:\d[a-z]{3})?|gmt[+-]?\d*", re.I)
_STEP: Final = timedelta(minutes=15)


def zones_meant(words: str, now: datetime) -> list[str]:
    """The zones that words may mean: one, several to choose from, or none. ``now`` is an aware instant.

    Zones without a place (``EST``, ``Etc/GMT+2``, ``GMT+2``) and times of day give cities whose clock
    agrees with them now, since such zones know no summer time or have signs that mislead.
    """
    said = " ".join(words.split())
    key = said.casefold().replace(" ", "_")
    found = _by_name().get(key)
    if found and not _FIXED.fullmatch(said):
        return [found]
    cities = _by_city().get(key, ())
    if cities:
        return list(cities)
    if found:
        return _cities_at(_offset_of(found, now), now)
    offset = _OFFSET.fullmatch(said)
    if offset:
        hours = timedelta(hours=int(offset[2]), minutes=int(offset[3] or 0))
        return _cities_at(-hours if offset[1] == "-" else hours, now)
    return _cities_by_clock(said, now)


def clock_in(zone: str, now: datetime) -> datetime:
    """The wall time of an instant in a zone."""
    return now.astimezone(ZoneInfo(zone))


def city(zone: str) -> str:
    """What a zone is called on a button: its city."""
    return zone.rsplit("/", 1)[-1].replace("_", " ")


def _cities_by_clock(said: str, now: datetime) -> list[str]:
    moment = wall_time(said)
    if moment is None:
        return []
    return [zone for zone in CITIES if _apart(clock_in(zone, now), moment.hour * 60 + moment.minute) < _STEP]


def _apart(local: datetime, minutes: int) -> timedelta:
    apart = abs(local.hour * 60 + local.minute - minutes)
    return timedelta(minutes=min(apart, 24 * 60 - apart))


def _offset_of(zone: str, now: datetime) -> timedelta:
    return clock_in(zone, now).utcoffset() or timedelta()


def _cities_at(offset: timedelta, now: datetime) -> list[str]:
    return [zone for zone in CITIES if _offset_of(zone, now) == offset]


@cache
def _by_name() -> dict[str, str]:
    return {zone.casefold(): zone for zone in available_timezones()}


@cache
def _by_city() -> dict[str, tuple[str, ...]]:
    cities: dict[str, list[str]] = {}
    for zone in sorted(available_timezones()):
        area, _, name = zone.partition("/")
        if name and area not in (
            "Etc",
            "SystemV",
            "US",
            "Canada",
            "Mexico",
            "Brazil",
            "Chile",
            "posix",
            "right",
        ):
            cities.setdefault(zone.rsplit("/", 1)[-1].casefold(), []).append(zone)
    return {name: tuple(zones) for name, zones in cities.items()}
