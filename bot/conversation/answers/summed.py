"""A week, a month or a year in a few lines: "summary of november"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.most import days_asked
from bot.conversation.answers.tally import prey_of_all
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind
from storage.records import JournalEntry

#: What is told by how often it was done, and what by whom it happened to.
_COUNTED: Final = (Kind.FED, Kind.REFUSED, Kind.WATERED, Kind.CLEANED)
_NAMED: Final = (
    Kind.MOLTED,
    Kind.MATURED,
    Kind.PREMOLT,
    Kind.SEALED,
    Kind.OPENED,
    Kind.MEASURED,
    Kind.REHOUSED,
    Kind.SEXED,
    Kind.PAIRED,
    Kind.SAC,
    Kind.ACQUIRED,
    Kind.DIED,
    Kind.LEFT,
)
_MOST_NAMES: Final = 12


def summed(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What was logged of the whole shelf in a time: meals and water as numbers, the rest with names."""
    said = wanted.rest or ""
    within = days_asked(turn, said)
    if within is None:
        return [turn.reply(say("most.which_days", days=said))]
    span = wording.span_of_days(within.first, within.last, turn.today)
    rows = turn.work.journal.entries(
        turn.shelf_id, kinds=(*_COUNTED, *_NAMED), since=within.first, until=within.last, newest_first=False
    )
    if not rows:
        return [turn.reply(say("summed.nothing", span=span))]
    by_kind = {kind: [row for row in rows if row.entry.kind is kind] for kind in (*_COUNTED, *_NAMED)}
    lines = [say("summed.head", span=span)]
    for kind, of_it in by_kind.items():
        if of_it:
            what = _times(of_it) if kind in _COUNTED else _names(turn, of_it)
            lines.append(say("concern.of", who=wording.capital(say_of("told", kind.value)), what=what))
    if eaten := prey_of_all(by_kind[Kind.FED]):
        lines.append(say("summed.eaten", what=eaten))
    return [fit(turn, "\n".join(lines))]


def _times(rows: Sequence[JournalEntry]) -> str:
    """How often, each animal counted: a dish filled for five is five."""
    return wording.times(sum(len(row.entry.specimens) for row in rows))


def _names(turn: Turn, rows: Sequence[JournalEntry]) -> str:
    named = turn.names_of(rows, most=_MOST_NAMES)  # those just bought have no tag yet
    return named or str(sum(row.entry.count or 1 for row in rows))
