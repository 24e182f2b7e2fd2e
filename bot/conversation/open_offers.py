"""A word on a meal of an animal whose offer is open: was that meant, or another meal?

The outcome belongs to the day of the offer, and what was offered is what was eaten or refused. Where the
message points to the offer ("ate yesterday's", "took it in the end") or tells of its very day, the offer is
completed; where that is but likely, it is asked. Other prey, or more of it, is another meal.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from bot.conversation import wording
from bot.conversation.doubts import Doubt, Way, each, names_of, without
from bot.conversation.round_state import OFFERS
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Reading
from bot.reading.short_answers import speaks_of_offer
from bot.round.care import offer_task
from bot.round.rests import Case
from bot.terms import Entry, Kind

_OUTCOMES = (Kind.FED, Kind.REFUSED)


def completed(turn: Turn, reading: Reading) -> Reading:
    """The reading with what it says of open offers told as their outcome, where it is sure to mean them."""
    points = speaks_of_offer(reading.text)
    meant = {
        tag: offered
        for tag, (entry, offered) in _open_offers(turn, reading).items()
        if entry.day == offered.day or points
    }
    return _as_outcome(reading, meant)


def may_be_an_offers(turn: Turn, reading: Reading, _replaced: Collection[int]) -> Doubt | None:
    """Whether a meal or a refusal told of a later day is what came of the offer that the round asks about."""
    hits = {
        tag: offered
        for tag, (entry, offered) in _open_offers(turn, reading).items()
        if entry.day > offered.day and entry.day == turn.today and _is_asked_about(turn, tag)
    }
    if not hits:
        return None
    first = next(iter(hits.values()))
    text = say(
        "checks.offered",
        who=names_of(turn, hits),
        meal=wording.meal_of(first) or say("checks.something"),
        day=wording.day_in_full(first.day, turn.today),
    )
    ways = (
        Way(say("checks.that_offer"), _as_outcome(reading, hits), word="yes"),
        Way(say("checks.new_today"), reading, word="no"),
    )
    return Doubt("offer", text, ways)


def _open_offers(turn: Turn, reading: Reading) -> dict[str, tuple[Entry, Entry]]:
    """For each animal of which an outcome is told: the entry, and the open offer that it may be of."""
    found = {}
    for entry, tag in each(reading, *_OUTCOMES):
        facts = turn.facts.get(tag)
        since = facts.state.open_offer if facts else None
        if since is None or entry.day < since:
            continue
        row = turn.work.journal.last(turn.shelf_id, tag, (Kind.OFFERED,))
        if row is not None and row.entry.day == since and _fits(entry, row.entry):
            found[tag] = (entry, row.entry)
    return found


def _fits(entry: Entry, offered: Entry) -> bool:
    """Whether what was eaten or refused can be what was offered."""
    fewer = entry.count is None or offered.count is None or entry.count <= offered.count
    return fewer and entry.prey in (None, offered.prey)


def _is_asked_about(turn: Turn, tag: str) -> bool:
    facts = turn.facts.get(tag)
    task = offer_task(Case(facts, turn.today)) if facts else None
    return task is not None and task.why.key in OFFERS


def _as_outcome(reading: Reading, offers: Mapping[str, Entry]) -> Reading:
    outcomes = {
        tag: replace(
            offers[tag],
            kind=entry.kind,
            specimens=(tag,),
            count=entry.count or offers[tag].count,
            size=entry.size or offers[tag].size,
            note=entry.note,
        )
        for entry, tag in each(reading, *_OUTCOMES)
        if tag in offers
    }
    for kind in _OUTCOMES:
        reading = without(reading, kind, outcomes)
    return replace(reading, entries=reading.entries + tuple(outcomes.values()))
