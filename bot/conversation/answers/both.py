"""Two things asked for at once, each counted as if asked alone: who ate yesterday and who refused."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from bot.conversation.answers.subject import empty_shelf
from bot.conversation.answers.tally import lines_of_everybody, span_told
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Question, Topic
from bot.reading.questions.stretches import Stretch, stretch_alone
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind

#: Where no days are named, so many are looked at, today among them.
_DAYS: Final = 7
_PAGE: Final = 30
#: What became of an offer, and what is told beside where both of these are asked for.
_OUTCOMES: Final = frozenset({Kind.FED, Kind.REFUSED})


def who_did(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who did the one thing and who the other; of offers also those open, and to how many none was."""
    if not turn.shelf.specimens and not turn.shelf.gone:
        return [turn.reply(empty_shelf(turn) or "")]
    days = _days(turn, wanted.rest)
    if days is None:
        return [turn.reply(say("most.which_days", days=wanted.rest or ""))]
    asked = [Kind(wanted.value or Kind.FED), Kind(wanted.also or Kind.REFUSED)]
    lines = [line for kind in asked for line in _of_kind(turn, kind, days)]
    if set(asked) == _OUTCOMES:
        lines += _of_other_offers(turn, days)
    return [fit(turn, "\n".join(lines), page_lines=_PAGE)]


def _days(turn: Turn, said: str | None) -> Stretch | None:
    if said is None:
        return Stretch(turn.today - timedelta(days=_DAYS - 1), turn.today)
    return stretch_alone(said, turn.shelf.names, now=turn.now, settings=turn.settings)


def _of_kind(turn: Turn, kind: Kind, days: Stretch) -> list[str]:
    question = Question(topic=Topic.HISTORY, kind=kind, since=days.first, until=days.last)
    return lines_of_everybody(turn, question, kind)


def _of_other_offers(turn: Turn, days: Stretch) -> list[str]:
    """Offers whose outcome is open, and the number of those on the shelf to whom nothing was offered."""
    kinds = (*_OUTCOMES, Kind.OFFERED)
    rows = turn.work.journal.entries(turn.shelf_id, kinds=kinds, since=days.first, until=days.last)
    offered = {tag for row in rows for tag in row.entry.specimens}
    left = sum(animal.tag not in offered for animal in turn.shelf.specimens)
    lines = []
    if any(row.entry.kind is Kind.OFFERED for row in rows):
        lines += _of_kind(turn, Kind.OFFERED, days)
    if left:
        lines.append(say("both.no_offer", n=left, span=span_told(turn, days, None)))
    return lines
