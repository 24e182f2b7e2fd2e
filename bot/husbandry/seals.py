"""How long burrows stayed sealed, by the journal. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date

from bot.terms import Entry, Kind

#: What tells that a burrow is open again: it was seen so, or a meal was taken.
OPENS = frozenset({Kind.OPENED, Kind.FED})


def seals_that_ended(entries: Iterable[Entry]) -> list[int]:
    """The days that each seal lasted which is over, in the order of ``entries``, which is that of days."""
    since: dict[str, date] = {}
    lasted: defaultdict[str, list[int]] = defaultdict(list)
    for entry in entries:
        for tag in entry.specimens:
            if entry.kind is Kind.SEALED:
                since.setdefault(tag, entry.day)
            elif entry.kind in OPENS and tag in since:
                lasted[tag].append((entry.day - since.pop(tag)).days)
    return [days for own in lasted.values() for days in own]
