"""An animal of the shelf is said to be no newcomer: the journal is told, and it need not settle in."""

from __future__ import annotations

from dataclasses import replace

from bot.conversation import log
from bot.conversation.model import Reply
from bot.conversation.newcomers import NEW_FOR, here_before
from bot.conversation.turn import Turn
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.here_since import here_since
from bot.reading.wanted.newcomer import came_on
from bot.terms import Kind


def said(turn: Turn) -> list[Reply] | None:
    """Stores since when one animal is kept, in the place of what was said of it before.

    ``None`` where the message says no such thing, or a day so near that it may be new after all.
    """
    told = None if turn.helps else here_since(turn.incoming.text, turn.shelf.names)
    tag: str | None = (told.tag or turn.dialog.get("of")) if told else None
    if told is None or tag is None or tag not in turn.shelf.by_tag:
        return None
    day = came_on(told.came, turn.shelf.names, turn.now, turn.settings) if told.came else None
    if told.came and (day is None or turn.today - day <= NEW_FOR):
        return None
    before = turn.work.journal.entries(turn.shelf_id, tags=[tag], kinds={Kind.ACQUIRED}) if day else ()
    entry = here_before(turn.today, (tag,), since=day)
    if before:  # what was said of its price and its seller still holds
        entry = replace(before[0].entry, day=entry.day, time=None)
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=(entry,))
    how = replace(log.Storing.of_message(turn), replaces=tuple(row.id for row in before))
    return log.store(turn, reading, how)
