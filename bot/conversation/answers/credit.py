"""Who logged it: "who logged that?", "who fed Ink?"."""

from __future__ import annotations

from typing import Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.people import who_logged
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind
from storage.records import JournalEntry

_ANY: Final = "any"
#: The entry recorded last is among so many of the latest days.
_LOOKED_AT: Final = 50


def who_logged_it(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who recorded the last entry that is meant: of the animal named or talked of, else of the shelf."""
    row = _meant(turn, wanted)
    if row is None:
        return [turn.reply(say("handover.nothing_to_tell"))]
    who = turn.called(row.entry.specimens[0]) if row.entry.specimens else say("answer.shelf")
    at = row.recorded_at.astimezone(turn.now.tzinfo)
    when = say("remind.moment", day=wording.day_in_full(at.date(), turn.today), time=wording.clock(at))
    line = say(
        "handover.logged_by",
        who=who,
        what=turn.told(row.entry),
        day=wording.day_in_full(row.entry.day, turn.today),
        by=who_logged(turn, row.by),
        when=when,
    )
    return [turn.reply(line)]


def _meant(turn: Turn, wanted: Instruction) -> JournalEntry | None:
    tags = wanted.tags[:1] or (() if wanted.every else _talked_of(turn))
    kinds = tuple(Kind) if wanted.value in (None, _ANY) else (Kind(wanted.value),)
    if tags:
        return turn.work.journal.last(turn.shelf_id, tags[0], kinds)
    rows = turn.work.journal.entries(turn.shelf_id, kinds=kinds, limit=_LOOKED_AT)
    return max(rows, key=lambda row: row.id, default=None)


def _talked_of(turn: Turn) -> tuple[str, ...]:
    of = turn.dialog.get("of")
    return (of,) if isinstance(of, str) and of in turn.shelf.by_tag else ()
