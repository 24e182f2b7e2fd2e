"""What a keeper has chosen: zone, units, date order, language and hours."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from enum import StrEnum
from typing import Final
from zoneinfo import ZoneInfo

from bot.terms.walltime import instant_of

#: All days of the week, as ``KeeperSettings.round_days`` has them.
ALL_WEEK: Final = "0123456"
#: An inch is 2.54 cm exactly (NIST SP 811).
CM_PER_INCH: Final = Decimal("2.54")
#: A US gallon is 231 cubic inches exactly (NIST Handbook 44).
LITRES_PER_US_GALLON: Final = Decimal("3.785411784")


def day_at(wall: datetime, day_starts: time = time(0)) -> date:
    """A keeper's date at a time on their wall, where a day begins at ``day_starts``."""
    return wall.date() if wall.time() >= day_starts else wall.date() - timedelta(days=1)


def local_day(at: datetime, zone: str, day_starts: time = time(0)) -> date:
    """A keeper's date at an instant, where a day begins at the wall time ``day_starts`` of their zone."""
    return day_at(at.astimezone(ZoneInfo(zone)), day_starts)


class Units(StrEnum):
    """How lengths, volumes and temperatures are shown, and what a bare gallon means.

    ``metric`` and ``us`` read a gallon as the US gallon (the reading contract's default),
    ``imperial`` as the imperial one; ``us`` shows inches and degrees Fahrenheit.
    """

    METRIC = "metric"
    US = "us"
    IMPERIAL = "imperial"


class DateOrder(StrEnum):
    """How ``3/5`` is meant: the order of day, month and year."""

    DMY = "dmy"
    MDY = "mdy"
    YMD = "ymd"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeeperSettings:
    """A keeper's settings; ``zone`` is an IANA zone name, all times are wall times there.

    A keeper's day starts at ``day_starts`` (default midnight). Between ``quiet_from`` and
    ``quiet_to`` the bot sends nothing of its own accord; equal values mean no quiet hours.
    ``round_days`` are the days of the week on which a round comes by itself, Monday 0, a digit each;
    ``round_hours`` are those with an hour of their own, as "5 09:00,6 09:00". From ``rounds_off_from`` to
    ``rounds_off_until``, both inclusive, no round comes. Until the instant ``quiet_until`` nothing comes by
    itself.
    ``delivery_weekday`` is the day of the week on which feeders come, Monday 0; ``None`` where none was said.
    """

    zone: str = "UTC"
    units: Units = Units.METRIC
    date_order: DateOrder = DateOrder.DMY
    language: str = "en"
    round_time: time = time(8, 0)
    quiet_from: time = time(22, 0)
    quiet_to: time = time(7, 0)
    day_starts: time = time(0, 0)
    delivery_weekday: int | None = None
    round_days: str = ALL_WEEK
    round_hours: str = ""
    rounds_off_from: date | None = None
    rounds_off_until: date | None = None
    quiet_until: datetime | None = None

    @property
    def units_said(self) -> Units:
        """The units that bare gallons and degrees are read in.

        Americans call theirs imperial as well: whoever writes the month first means those of the US
        (common practice, no source).
        """
        american = self.units is Units.IMPERIAL and self.date_order is DateOrder.MDY
        return Units.US if american else self.units

    def day_of(self, moment: datetime) -> date:
        """The keeper's date at a moment (aware)."""
        return local_day(moment, self.zone, self.day_starts)

    @property
    def other_hours(self) -> dict[int, time]:
        """The days of the week whose round has an hour of its own, Monday 0."""
        said = (one.split(" ") for one in self.round_hours.split(",") if one)
        return {int(day): time.fromisoformat(at) for day, at in said}

    def round_at(self, weekday: int) -> time:
        """The wall time of the round on a day of the week, Monday 0."""
        return self.other_hours.get(weekday, self.round_time) if self.round_hours else self.round_time

    def hour_on(self, day: date, said: time | None) -> time:
        """The wall time of what is due on a day: the one said, else that of the day's round."""
        return said or self.round_at(day.weekday())

    def round_on(self, day: date) -> datetime:
        """The instant, in UTC, of the round of a keeper's day, be it one on which a round comes or not."""
        at = self.round_at(day.weekday())
        return instant_of(day + timedelta(days=1) if at < self.day_starts else day, at, self.zone)

    def has_round(self, day: date) -> bool:
        """Whether a round comes by itself on a day: not on other days of the week, nor in a pause."""
        first, last = self.rounds_off_from, self.rounds_off_until
        paused = first is not None and last is not None and first <= day <= last
        return not paused and f"{day.weekday()}" in self.round_days


def as_round_hours(hours: Mapping[int, time]) -> str:
    """Hours by the day of the week as ``round_hours`` has them."""
    return ",".join(f"{day} {at:%H:%M}" for day, at in sorted(hours.items()))
