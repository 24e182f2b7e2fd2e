"""What was paid and what was got for animals and feeders, by currency, as the journal has it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import asked_of, named
from bot.conversation.answers.tally import span_asked
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.model import Question
from bot.terms import Entry, Kind

#: What money is given or got for, in the order in which it is told.
_BARGAINS: Final = (Kind.ACQUIRED, Kind.STOCKED, Kind.LEFT)


def spending(turn: Turn, question: Question) -> list[Reply]:
    """The sums of a time for animals bought, feeders bought and animals sold; of one animal, each price."""
    tags = tuple(animal.tag for animal in asked_of(turn, question)) if named(question) else None
    rows = turn.work.journal.entries(
        turn.shelf_id, tags=tags, kinds=_BARGAINS, since=question.since, until=question.until
    )
    priced = [row.entry for row in rows if row.entry.price is not None]
    unpriced = sum(row.entry.price is None for row in rows if row.entry.kind is not Kind.LEFT)
    span = span_asked(turn, question, priced[-1].day if priced else None)
    if not priced:
        return [turn.reply(say("spending.none", span=span))]
    lines = [say("spending.head", span=span)]
    for kind in _BARGAINS:
        entries = [entry for entry in priced if entry.kind is kind]
        if entries:
            lines.append(say_of("spending.kind", kind.value, sums=_sums(entries), n=len(entries)))
    if tags is not None and len(tags) == 1:
        lines += [_dated(turn, entry) for entry in priced]
    if unpriced:
        lines.append(say("spending.unpriced", n=unpriced))
    return [fit(turn, "\n".join(lines))]


def _sums(entries: Sequence[Entry]) -> str:
    sums: defaultdict[str, Decimal] = defaultdict(Decimal)
    for entry in entries:
        assert entry.price is not None
        sums[entry.currency or ""] += entry.price
    return wording.listed([wording.money(total, currency) for currency, total in sorted(sums.items())])


def _dated(turn: Turn, entry: Entry) -> str:
    return say("history.line", day=wording.date_of(entry.day, turn.today), what=turn.told(entry))
