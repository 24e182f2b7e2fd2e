"""How warm and how humid it is: the latest readings of the room and of each place, and how far they went."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import asked_of, named
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Question
from bot.terms import Entry, Kind

_DAYS: Final = 30
"""So far back the lowest and the highest reading are looked for where no time is named."""
_FEW: Final = 3
"""From so many readings on, how far they went is told."""


def climate(turn: Turn, question: Question) -> list[Reply]:
    """The latest reading of the room and of each place asked about, with the lowest and highest of a time."""
    rows = turn.work.journal.entries(
        turn.shelf_id, kinds=(Kind.CLIMATE,), since=question.since, until=question.until
    )
    of_place: dict[str, list[Entry]] = {}
    for row in rows:
        for place in _places_of(turn, row.entry):
            of_place.setdefault(place, []).append(row.entry)
    wanted = _places_asked(turn, question)
    lines = [
        _line(turn, question, place, entries)
        for place, entries in sorted(of_place.items())
        if wanted is None or not place or place in wanted
    ]
    return [fit(turn, "\n".join(lines) or say("climate.none"))]


def _places_of(turn: Turn, entry: Entry) -> set[str]:
    """The places that a reading is of; the empty name stands for the room."""
    if entry.place is not None or not entry.specimens:
        return {entry.place or ""}
    return {animal.place or "" for animal in turn.animals(entry.specimens)}


def _places_asked(turn: Turn, question: Question) -> set[str] | None:
    if not named(question):
        return None
    return {animal.place for animal in asked_of(turn, question) if animal.place}


def _line(turn: Turn, question: Question, place: str, entries: list[Entry]) -> str:
    """Entries are newest first."""
    latest = entries[0]
    where = wording.capital(place) if place else say("climate.room")
    line = say(
        "climate.line",
        where=where,
        what=turn.told(latest),
        day=wording.day_and_ago(latest.day, turn.today),
    )
    return " ".join(part for part in (line, _went(turn, question, entries)) if part)


def _went(turn: Turn, question: Question, entries: list[Entry]) -> str:
    """From where to where the readings of the time asked about went, or of the last weeks."""
    first = question.since or turn.today - timedelta(days=_DAYS)
    within = [entry for entry in entries if entry.day >= first]
    if len(within) < _FEW:
        return ""
    units = turn.settings.units
    parts = [
        _range(within, "temp_c", lambda value: wording.temperature(value, units)),
        _range(within, "humidity_pct", lambda value: say("measure.humidity", n=wording.number(value))),
    ]
    return say(
        "climate.went",
        span=wording.span_of_days(first, _last(question, turn.today), turn.today),
        what=", ".join(part for part in parts if part),
        n=len(within),
    )


def _last(question: Question, today: date) -> date:
    return min(question.until or today, today)


def _range(entries: Iterable[Entry], field: str, told: Callable[[Decimal], str]) -> str:
    values = [value for entry in entries if (value := getattr(entry, field)) is not None]
    if not values:
        return ""
    low, high = told(min(values)), told(max(values))
    return low if low == high else say("climate.range", low=low, high=high)
