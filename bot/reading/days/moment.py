"""The moment a message is read at: what the wall shows, and which day it still is for the keeper."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Literal

from bot.terms import DateOrder, KeeperSettings, day_at
from bot.terms.value_object import value_object

Facing = Literal["past", "future"]

_HOURS_OF_A_DAY = 24


@value_object()
class Moment:
    """The moment a message is read at (aware, in the keeper's zone), and how its keeper writes dates.

    A keeper's day begins at ``day_starts``: in the hours before it the date on the calendar is a day ahead.
    """

    now: datetime
    order: DateOrder
    facing: Facing = "past"
    day_starts: time = time(0)

    @classmethod
    def of(cls, now: datetime, settings: KeeperSettings, facing: Facing = "past") -> Moment:
        """The moment by a keeper's settings."""
        return cls(now, settings.date_order, facing, settings.day_starts)

    @property
    def today(self) -> date:
        """The keeper's date."""
        return day_at(self.now, self.day_starts)

    @property
    def calendar_day(self) -> date:
        """The date on the calendar, by which the times on the wall are counted."""
        return self.now.date()

    @property
    def runs_over(self) -> bool:
        """Whether the keeper's day lasts on past midnight, so that the calendar is a day ahead."""
        return self.today != self.calendar_day

    @property
    def hour(self) -> int:
        """The hour, counted on past midnight while the keeper's day lasts: 25 at one in the night."""
        return self.now.hour + (_HOURS_OF_A_DAY if self.runs_over else 0)

    @property
    def past(self) -> bool:
        """Whether the message tells what has happened."""
        return self.facing == "past"

    def after_midnight(self, wall: time) -> bool:
        """Whether a time on the wall is one of those after midnight that belong to the day before."""
        return wall < self.day_starts

    def order_of(self, wall: time) -> tuple[bool, time]:
        """Where a time on the wall stands within a keeper's day."""
        return self.after_midnight(wall), wall
