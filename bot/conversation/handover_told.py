"""What a helper did, told to the keeper: a line for a day, and a summary at the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.people import yours, yours_first
from bot.conversation.round_state import settled
from bot.conversation.round_words import Item, is_open
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.terms import Kind
from storage.records import Handover, JournalEntry

_DAY: Final = timedelta(days=1)
_MOST_NAMES: Final = 6
_MOST_LINES: Final = 10
_COUNTED: Final = (Kind.FED, Kind.WATERED)


def daily(turn: Turn, handed: Handover, day: date) -> str:
    """What the helper did on the day before ``day``, and what of the round was left."""
    before = day - _DAY
    rows = _logged(turn, handed, before, before)
    parts = told(turn, rows)
    undone = _undone(turn, handed, before)
    if undone:
        parts.append(say("handover.undone", names=wording.listed(undone, most=_MOST_NAMES)))
    if not parts:
        due = turn.work.rounds.of_day(handed.helper or 0, before) is not None
        parts = [say("handover.nothing_logged") if due else say("handover.nothing_due")]
    who = yours(handed.called)
    return say("handover.daily", day=wording.date_of(before, turn.today), who=who, what="; ".join(parts))


def summary(turn: Turn, handed: Handover, *, until: date) -> str:
    """What came of the whole period."""
    rows = _logged(turn, handed, handed.first, until)
    parts = told(turn, rows) or [say("handover.nothing_logged")]
    lines = [
        say(
            "handover.summary",
            who=yours_first(handed.called),
            first=wording.date_of(handed.first, turn.today),
            last=wording.date_of(until, turn.today),
            what="; ".join(parts),
        )
    ]
    if silent := _silent_days(turn, handed, until, rows):
        days = wording.listed([wording.date_of(day, turn.today) for day in silent], most=_MOST_NAMES)
        lines.append(say("handover.days_silent", days=days))
    return "\n".join(lines)


def _logged(turn: Turn, handed: Handover, first: date, last: date) -> list[JournalEntry]:
    """The helper's own entries of some days, oldest first."""
    rows = turn.work.journal.entries(turn.shelf_id, since=first, until=last, newest_first=False)
    return [row for row in rows if row.by == handed.helper]


def told(turn: Turn, rows: Sequence[JournalEntry], *, named: bool = False) -> list[str]:
    """Meals and water as numbers, with the names where they are wanted; the rest by name."""
    parts = []
    for kind in _COUNTED:
        of_it = [row for row in rows if row.entry.kind is kind]
        counted = say_of("handover.counted", kind.value, n=len(of_it))
        if of_it and named:
            counted = say("handover.seen", told=counted, names=turn.names_of(of_it, most=_MOST_NAMES))
        parts += [counted] if of_it else []
    refused = turn.names_of((row for row in rows if row.entry.kind is Kind.REFUSED), most=_MOST_NAMES)
    parts += [say("handover.refused", names=refused)] if refused else []
    return parts + list(_others(turn, rows))[:_MOST_LINES]


def _others(turn: Turn, rows: Sequence[JournalEntry]) -> Iterator[str]:
    alike: dict[str, list[JournalEntry]] = {}
    for row in rows:
        if row.entry.kind not in (*_COUNTED, Kind.REFUSED):
            alike.setdefault(turn.told(row.entry), []).append(row)
    for what, of_them in alike.items():
        names = turn.names_of(of_them, most=_MOST_NAMES)
        yield say("handover.seen", told=what, names=names) if names else what


def _undone(turn: Turn, handed: Handover, day: date) -> list[str]:
    """What of the helper's round of a day is still not on record: "feed Pebble (A1)"."""
    occurrence = turn.work.rounds.of_day(handed.helper or 0, day)
    if occurrence is None:
        return []
    items: list[Item] = [dict(item) for item in occurrence.tasks]
    turn.facts.fetch(item["tag"] for item in items)
    now = settled(items, turn.facts, day, turn.settings)
    return [
        say_of("handover.to_do", item["task"], who=turn.called(item["tag"])) for item in now if _left(item)
    ]


def _left(item: Item) -> bool:
    return is_open(item) or item["state"] == "skipped"


def _silent_days(turn: Turn, handed: Handover, until: date, rows: Sequence[JournalEntry]) -> list[date]:
    """Days with a round of which nothing at all was logged."""
    logged = {row.entry.day for row in rows}
    days = [handed.first + _DAY * n for n in range((until - handed.first).days + 1)]
    return [
        day
        for day in days
        if day not in logged and turn.work.rounds.of_day(handed.helper or 0, day) is not None
    ]
