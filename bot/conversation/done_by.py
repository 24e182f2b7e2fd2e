"""What somebody else did on the shelf: "what did Anna do", "what has my sister logged this week"."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from itertools import groupby
from typing import Final

from bot.conversation import handover_told, wording
from bot.conversation.handover_open import list_open
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.people import name_of, others_of, who_logged, yours
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.names.names_alone import whom
from bot.reading.questions.stretches import Stretch, stretch_alone
from bot.reading.wanted.people_said import DoneBy, read_done_by, read_person_called
from bot.reading.words.phrasings import folded
from storage.records import Handover

#: Of which days the entries are told, where no days are said and no hand-over tells them.
_OF_LATE: Final = timedelta(days=7)
_LONGEST_NAME: Final = 60


def asked(turn: Turn) -> list[Reply] | None:
    """The entries of the one who is asked about, a line for each day; ``None`` where it is nobody known."""
    if turn.helps:
        return None
    for said in read_done_by(turn.incoming.text, turn.settings.language):
        who = _people(turn).get(folded(said.person))
        stretch = _stretch(turn, said, who) if who is not None else None
        if who is not None and stretch is not None and not whom(said.person, turn.shelf.names):
            return [_told(turn, who, stretch)]
    return None


def _people(turn: Turn) -> Mapping[str, int]:
    """Those who log or logged on the shelf beside the one who writes, by whatever they are called."""
    handed = [one for one in turn.work.handovers.of_shelf(turn.shelf_id) if one.helper is not None]
    called = [(name, one.helper) for one in handed for name in _ways_to_call(one.called)]
    numbers = dict.fromkeys([*(one.helper for one in handed), *others_of(turn)])
    named = [(name_of(turn, number), number) for number in numbers if number is not None]
    return {folded(name): number for name, number in (*named, *called) if number is not None}


def _ways_to_call(called: str) -> Iterator[str]:
    yield called
    yield called.partition(" ")[2] or called  # "sister" of "my sister"


def _stretch(turn: Turn, said: DoneBy, who: int) -> Stretch | None:
    """The days that are said; else those of the hand-over that is on or was the last, or the latest days."""
    if said.when:
        return stretch_alone(said.when, turn.shelf.names, now=turn.now, settings=turn.settings)
    handed = [one for one in turn.work.handovers.of_shelf(turn.shelf_id) if one.helper == who]
    begun = [one.first for one in handed if one.first <= turn.today]
    return Stretch(max(begun, default=turn.today - _OF_LATE), turn.today)


def _told(turn: Turn, who: int, stretch: Stretch) -> Reply:
    rows = turn.work.journal.entries(turn.shelf_id, since=stretch.first, until=stretch.last)
    by = who_logged(turn, who)
    days = {
        day: list(of_day)
        for day, of_day in groupby((row for row in rows if row.by == who), key=lambda row: row.entry.day)
    }
    if not days:
        within = wording.span_of_days(stretch.first, stretch.last, turn.today)
        return turn.reply(say("handover.did_nothing", who=by, days=within))
    lines = [
        _line(turn, by, day, "; ".join(handover_told.told(turn, of_day[::-1], named=True)))
        for day, of_day in days.items()
    ]
    return fit(turn, "\n".join(lines))


def _line(turn: Turn, by: str, day: date, what: str) -> str:
    return say("handover.daily", day=wording.date_of(day, turn.today), who=by, what=what)


# --- what they are called ---------------------------------------------------------------------


def called(turn: Turn) -> list[Reply] | None:
    """ "My sister is called Anna", of one whom a hand-over names; ``None`` for anything else."""
    said = None if turn.helps else read_person_called(turn.incoming.text, turn.settings.language)
    if said is None or whom(said[0], turn.shelf.names) or len(said[1]) > _LONGEST_NAME:
        return None
    handed = [one for one in turn.work.handovers.open(turn.shelf_id) if _is_meant(one, said)]
    if len(handed) != 1:
        return None
    if handed[0].called == said[1]:
        return list_open(turn)
    turn.work.handovers.call(handed[0].id, said[1])
    turn.remember(elsewhere="handover")
    return [turn.reply(say("handover.called", who=wording.capital(yours(handed[0].called)), name=said[1]))]


def _is_meant(handed: Handover, said: tuple[str, str]) -> bool:
    """Whether a hand-over names whom a message gives a name, by what they were called or that name."""
    person, name = map(folded, said)
    return person in map(folded, _ways_to_call(handed.called)) or name == folded(handed.called)
