"""What became of egg sacs: how many young hatched, who laid one, and when."""

from __future__ import annotations

from collections.abc import Sequence

from bot.conversation import wording
from bot.conversation.answers.most import days_asked
from bot.conversation.answers.subject import never_kept
from bot.conversation.answers.tally import span_told
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind, SacEvent, Specimen
from storage.records import JournalEntry


def sacs(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Each sac of which that is on record, the newest first; of those that hatched, how many young in all."""
    event, animals = SacEvent(wanted.value or SacEvent.HATCHED), asked_about(turn, wanted)
    days = days_asked(turn, wanted.rest) if wanted.rest else None
    if wanted.rest and days is None:
        return [turn.reply(say("most.which_days", days=wanted.rest))]
    since, until = days or (None, None)
    tags = tuple(animal.tag for animal in animals) or None
    kept = turn.work.journal.entries(turn.shelf_id, tags=tags, kinds=(Kind.SAC,), since=since, until=until)
    rows = [row for row in kept if row.entry.event is event]
    if not rows:
        nobody = None if tags else never_kept(turn)
        return [turn.reply(nobody or _none(event, animals))]
    lines = [_line(turn, row) for row in rows]
    if event is SacEvent.HATCHED:
        lines.insert(0, _young(turn, rows, wanted))
    elif event is SacEvent.LAID and len(animals) == 1 and _guards(turn, animals[0]):
        lines[0] = f"{lines[0]} {say('last.sac_there')}"
    return [fit(turn, "\n".join(lines))]


def _line(turn: Turn, row: JournalEntry) -> str:
    who = turn.called(row.entry.specimens[0]) if row.entry.specimens else say("answer.shelf")
    day = wording.day_and_ago(row.entry.day, turn.today)
    return say("last.found", who=who, what=turn.told(row.entry), day=day)


def _young(turn: Turn, rows: Sequence[JournalEntry], wanted: Instruction) -> str:
    """How many hatched, as far as it was counted."""
    days = days_asked(turn, wanted.rest) if wanted.rest else None
    span = span_told(turn, days, rows[-1].entry.day)
    counts = [row.entry.count for row in rows if row.entry.count is not None]
    if not counts:
        return say("sacs.hatched_uncounted", span=span, sacs=wording.counted(len(rows), "sac"))
    told = say("sacs.hatched", span=span, n=sum(counts), sacs=wording.counted(len(counts), "sac"))
    uncounted = len(rows) - len(counts)
    return f"{told} {say('sacs.uncounted', n=uncounted)}" if uncounted else told


def _none(event: SacEvent, animals: Sequence[Specimen]) -> str:
    none = say_of("sacs.none", event.value)
    return say("answer.card", who=wording.called(animals), what=none) if animals else wording.capital(none)


def _guards(turn: Turn, animal: Specimen) -> bool:
    facts = turn.facts.get(animal.tag)
    return facts is not None and facts.state.sac_since is not None
