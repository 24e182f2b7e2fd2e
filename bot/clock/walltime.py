"""Wall times: at which instant a keeper's clock shows eight, whatever the country does to its clocks.

Instants are aware datetimes in UTC, wall times naive ``time`` values, zones IANA names. Days on
which the wall time falls into a gap or comes twice follow RFC 5545 section 3.3.5: in a gap the
offset before the gap counts, and of two occurrences the first. Nothing here reads a clock.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bot.terms import KeeperSettings
from bot.terms.recurrence import days_after
from bot.terms.walltime import instant_of

_DAY = timedelta(days=1)
#: From the day before (a zone may have jumped over the date line) to well past any gap of a whole day.
_DAYS_TO_TRY = range(-1, 5)


def next_wall_time(after: datetime, wall: time, zone: str) -> datetime:
    """The first instant later than ``after`` at which it is ``wall`` o'clock: one for each local date."""
    today = after.astimezone(ZoneInfo(zone)).date()
    for days in _DAYS_TO_TRY:
        instant = instant_of(today + days * _DAY, wall, zone)
        if instant > after:
            return instant
    raise ValueError(f"no {wall:%H:%M} in {zone} within days of {after:%Y-%m-%d}")  # pragma: no cover


def next_round(after: datetime, settings: KeeperSettings) -> datetime:
    """The first instant later than ``after`` of a round's wall time: one for each of the keeper's days."""
    today = settings.day_of(after)
    for days in _DAYS_TO_TRY:
        instant = settings.round_on(today + days * _DAY)
        if instant > after:
            return instant
    raise ValueError(f"no round within days of {after:%Y-%m-%d}")  # pragma: no cover


def is_quiet(at: datetime, quiet_from: time, quiet_to: time, zone: str) -> bool:
    """Whether an instant lies in the quiet hours; they may span midnight, and equal ends mean none."""
    wall = at.astimezone(ZoneInfo(zone)).time()
    if quiet_from <= quiet_to:
        return quiet_from <= wall < quiet_to
    return wall >= quiet_from or wall < quiet_to


def end_of_quiet(at: datetime, quiet_from: time, quiet_to: time, zone: str) -> datetime:
    """The first instant not before ``at`` that lies outside the quiet hours."""
    moment = at
    while is_quiet(moment, quiet_from, quiet_to, zone):
        # clocks that go back at the end of the quiet hours bring a second piece of them
        moment = next_wall_time(moment, quiet_to, zone)
    return moment


def next_by_rule(
    after: datetime, first: date, rule: str, wall: Callable[[date], time], zone: str
) -> datetime | None:
    """The first instant later than ``after`` on a day of a rule that begins on ``first``.

    ``rule`` is an RFC 5545 rule over local days, ``wall`` gives the wall time of each of them. ``None`` where
    it has no more days.
    """
    # two days back: a zone may have jumped over the date line, and the last day's wall time may lie ahead
    days = days_after(rule, first, after.astimezone(ZoneInfo(zone)).date() - 2 * _DAY)
    return next((moment for day in days if (moment := instant_of(day, wall(day), zone)) > after), None)
