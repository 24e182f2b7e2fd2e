"""Which animals cost the most or the least, and who was got from whom, as the journal has it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.most import days_asked
from bot.conversation.answers.tally import span_told
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.reading.words.phrasings import OWNS, folded
from bot.terms import Entry, Kind

#: So many prices are told of each currency.
_TOLD: Final = 5
_SMALL_WORDS: Final = frozenset({"the", "a", "an", "my", "our"})


def by_price(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The animals bought with the highest prices, or the lowest, each currency by itself."""
    days = days_asked(turn, wanted.rest) if wanted.rest else None
    if wanted.rest and days is None:
        return [turn.reply(say("most.which_days", days=wanted.rest))]
    since, until = days or (None, None)
    rows = turn.work.journal.entries(turn.shelf_id, kinds=(Kind.ACQUIRED,), since=since, until=until)
    priced = [row.entry for row in rows if row.entry.price is not None]
    span = span_told(turn, days, priced[-1].day if priced else None)
    if not priced:
        return [turn.reply(say("spending.none", span=span))]
    which = wanted.value or "dearest"
    lines = [say_of("prices", which, span=span)]
    for _, entries in groupby(sorted(priced, key=_currency), key=_currency):
        ranked = sorted(entries, key=_price, reverse=which == "dearest")
        lines += [_line(turn, entry) for entry in ranked[:_TOLD]]
    unpriced = len(rows) - len(priced)
    lines += [say("spending.unpriced", n=unpriced)] if unpriced else []
    return [fit(turn, "\n".join(lines))]


def from_whom(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who was got from a person or a shop, the newest first; where nobody was, who is on record as such."""
    person = wanted.value or ""
    rows = turn.work.journal.entries(turn.shelf_id, kinds=(Kind.ACQUIRED,))
    sourced = [row.entry for row in rows if row.entry.source]
    found = [entry for entry in sourced if _words(person) <= _words(entry.source or "")]
    if not found:
        return [turn.reply(_nobody(person, sourced))]
    n = sum(entry.count or 1 for entry in found)
    head = say("from_whom.these", person=person, n=n)
    return [fit(turn, "\n".join([head, *(_line(turn, entry) for entry in found)]))]


def _nobody(person: str, sourced: Sequence[Entry]) -> str:
    known = list(dict.fromkeys(entry.source or "" for entry in sourced))
    if not known:
        return say("from_whom.no_source")
    return say("from_whom.nobody", person=person, names=wording.listed(known, most=_TOLD))


def _line(turn: Turn, entry: Entry) -> str:
    day = wording.date_of(entry.day, turn.today)
    if not entry.specimens:
        return say("history.line", day=day, what=turn.told(entry))
    return say("history.line_of", day=day, who=turn.called(entry.specimens[0]), what=turn.told(entry))


def _words(said: str) -> frozenset[str]:
    return frozenset(OWNS.sub("", word) for word in folded(said).split()) - _SMALL_WORDS


def _currency(entry: Entry) -> str:
    return entry.currency or ""


def _price(entry: Entry) -> float:
    return float(entry.price or 0)
