"""A missing animal is found again: told in words that would say nothing of one that is not missing."""

from __future__ import annotations

from bot.conversation import log
from bot.conversation.model import Reply
from bot.conversation.turn import Turn
from bot.husbandry.absence_record import Absence, absence_noted
from bot.reading.model import Reading, ReadingKind
from bot.reading.names.names_alone import named_in
from bot.terms import Entry, Kind


def found_again(turn: Turn) -> list[Reply] | None:
    """ "Found her behind the rack", "Ink is back": a note where the one meant is missing; else ``None``."""
    text = turn.incoming.text
    if absence_noted(text) is not Absence.FOUND:
        return None
    missing = [facts.specimen.tag for facts in turn.facts.all() if facts.state.missing_since is not None]
    named = named_in(text, turn.shelf.names)
    meant = [tag for tag in missing if tag in named] if named else missing
    if len(meant) != 1 or len(named) > 1:
        return None
    note = Entry(kind=Kind.NOTE, day=turn.today, specimens=(meant[0],), note=text.strip())
    return log.log_message(turn, Reading(reading=ReadingKind.ENTRIES, entries=(note,), text=text))
