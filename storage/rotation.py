"""Which of the copies made day by day are kept: the newest of so many days, weeks and months. Pure."""

from __future__ import annotations

from collections.abc import Collection, Hashable
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Keep:
    """For how many days, ISO weeks and calendar months that have a copy the newest one is kept."""

    daily: int = 7
    weekly: int = 4
    monthly: int = 12

    def __post_init__(self) -> None:
        if self.daily < 1 or self.weekly < 0 or self.monthly < 0:
            raise ValueError("keep at least one day, and no fewer than 0 weeks and months")


def kept(days: Collection[date], keep: Keep) -> frozenset[date]:
    """The days whose copies are kept.

    A period counts where it has a copy, so that nothing is dropped merely because time went by; what is
    kept of copies already thinned out day after day is what would be kept of them all.
    """
    newest_first = sorted(set(days), reverse=True)
    chosen: set[date] = set()
    for period_of, most in ((_day, keep.daily), (_week, keep.weekly), (_month, keep.monthly)):
        newest: dict[Hashable, date] = {}
        for day in newest_first:
            newest.setdefault(period_of(day), day)
        chosen.update(list(newest.values())[:most])
    return frozenset(chosen)


def _day(day: date) -> Hashable:
    return day


def _week(day: date) -> Hashable:
    return day.isocalendar()[:2]


def _month(day: date) -> Hashable:
    return day.year, day.month
