"""The demo shelf's journal as plain rows of SQL, and figures worked out from them by plain loops.

This is the second way to each figure that the conversation answers with: it imports nothing of the program,
reads the tables by SQL, and writes days and counts in words of its own. Amounts are stored in thousandths.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from statistics import median

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_QUERY = """
SELECT specimen.tag, entry.day, entry.kind, entry.count, entry.size, entry.prey, entry.ml, entry.span_cm,
       entry.volume_l, entry.substrate_cm, entry.how, entry.event, entry.price, entry.currency, entry.source,
       entry.id
FROM entry LEFT JOIN specimen ON specimen.id = entry.specimen_id
WHERE entry.live ORDER BY entry.day, coalesce(entry.time, '00:00'), entry.id
"""
_ANIMALS = "SELECT tag, species, lot_size, span_cm FROM specimen WHERE gone_on IS NULL ORDER BY position"


@dataclass(frozen=True)
class Row:
    """One row of the journal."""

    tag: str | None
    day: date
    kind: str
    count: int | None
    size: str | None
    prey: str | None
    ml: int | None
    span: int | None
    volume: int | None
    depth: int | None
    how: str | None
    event: str | None
    price: int | None
    currency: str | None
    source: str | None


class RawJournal:
    """All live rows of a store in a file, oldest first, on a day."""

    def __init__(self, file, today):
        with closing(sqlite3.connect(file)) as database:
            self.rows = [
                Row(tag, date.fromisoformat(day), *more)
                for tag, day, *more, _id in database.execute(_QUERY).fetchall()
            ]
            self.animals = database.execute(_ANIMALS).fetchall()
        self.today = today

    # --- rows

    def of(self, tag, *kinds, since=date.min, until=date.max):
        """The rows of one animal, of some kinds, between two days."""
        return [
            row
            for row in self.rows
            if row.tag == tag and (not kinds or row.kind in kinds) and since <= row.day <= until
        ]

    def last(self, tag, *kinds):
        """The latest of them."""
        found = self.of(tag, *kinds)
        return found[-1] if found else None

    # --- words for days

    def day(self, on):
        """ "Wed 29 Apr", with the year where it is another than today's."""
        words = f"{_WEEKDAYS[on.weekday()]} {on.day} {_MONTHS[on.month - 1]}"
        return words if on.year == self.today.year else f"{words} {on.year}"

    def ago(self, on):
        """ "Wed 29 Apr, 15 days ago", "yesterday (Wed 13 May)", "today"."""
        days = (self.today - on).days
        if days == 0:
            return "today"
        return f"yesterday ({self.day(on)})" if days == 1 else f"{self.day(on)}, {days} days ago"

    # --- states, by one walk through the rows

    def sealed_since(self, tag):
        """The day of the first seal since it was last open, or ``None``."""
        since = None
        for row in self.of(tag, "sealed", "opened", "fed", "molted", "matured"):
            since = (since or row.day) if row.kind == "sealed" else None
        return since

    def premolt_since(self, tag):
        """The day of the first sign of premolt since it last molted or ate, or ``None``."""
        since = None
        for row in self.of(tag, "premolt", "fed", "molted", "matured"):
            since = (since or row.day) if row.kind == "premolt" else None
        return since

    def refusing(self, tag):
        """The days on which it refused since it last ate or molted."""
        days = []
        for row in self.of(tag, "refused", "fed", "molted", "matured"):
            days = [*days, row.day] if row.kind == "refused" else []
        return days

    def molts(self, tag, since=date.min, until=date.max):
        """The days of its molts; two within a week are one."""
        days = []
        for row in self.of(tag, "molted", "matured"):
            if not days or (row.day - days[-1]).days >= 7:
                days.append(row.day)
        return [day for day in days if since <= day <= until]

    def gaps(self, tag):
        """Shortest, longest and middle number of days between molts, and how many there are."""
        days = self.molts(tag)
        gaps = [(later - earlier).days for earlier, later in pairwise(days)]
        return min(gaps), max(gaps), round(median(gaps)), len(gaps)

    def eaten(self, rows):
        """How many of each prey were eaten, by size and prey."""
        totals = {}
        for row in rows:
            key = (row.size, row.prey)
            totals[key] = totals.get(key, 0) + row.count
        return totals

    def fasting(self, days):
        """Tags of those whose last meal lies that many days back or more, with its day."""
        found = {}
        for tag, *_ in self.animals:
            last = self.last(tag, "fed")
            if last is not None and (self.today - last.day).days >= days:
                found[tag] = last.day
        return found


def months_ago(today, back):
    """First and last day of the month so many months back."""
    year, month = divmod(today.year * 12 + today.month - 1 - back, 12)
    first = date(year, month + 1, 1)
    following = date(year + (month + 1) // 12, (month + 1) % 12 + 1, 1)
    return first, min(following - timedelta(days=1), today)
