"""What is said of many at once must not quietly be said of those who rest: "everyone ate", "fed shelf B".

Who rests (sealed, in premolt, fresh from a molt, held by the keeper) was most likely left in peace. It is
asked who is meant: those due today come first, then those not at rest, then all of them. An animal that the
message names is meant, whatever it is in. Water goes on for those at rest; it is asked only where the whole
shelf is told of, with some sealed that are not due for it.

While today's round is open, a meal of a place may as well be an answer to it: where the round asks for some
there and not for others, it is asked who is meant.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date
from typing import Final

from bot.conversation.doubts import Doubt, Way, names_of
from bot.conversation.round_board import newest_open
from bot.conversation.round_items import items_of_day
from bot.conversation.round_words import is_open
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.model import Reading
from bot.reading.names.names_alone import named_in
from bot.round.model import RestReason, SpecimenFacts, TaskKind
from bot.round.worklist import rest_of
from bot.terms import Entry, Kind

_TASK: Final = {
    Kind.FED: TaskKind.FEED,
    Kind.OFFERED: TaskKind.FEED,
    Kind.REFUSED: TaskKind.FEED,
    Kind.WATERED: TaskKind.WATER,
}
_MANY: Final = 2
_MEALS: Final = frozenset({Kind.FED, Kind.REFUSED})


def some_rest(turn: Turn, reading: Reading, replaced: Collection[int]) -> Doubt | None:
    """Who of many is meant, where some of them rest and none of these is named."""
    told = next((entry for entry in reading.entries if _is_of_many(turn, entry)), None)
    if told is None:
        return None
    due = _due(turn, told)
    rests = _is_sealed if told.kind is Kind.WATERED else _rests
    resting = {tag for tag in told.specimens if rests(turn.facts.get(tag), told.day)} - due
    resting -= named_in(reading.text, turn.shelf.all_names)
    resting -= _told_before(turn, told, resting, replaced)
    if not resting:
        return _those_of_the_round(turn, reading, told, due, replaced)
    if _is_asked_as_sealed(turn, told, resting):
        return None
    awake = set(told.specimens) - resting
    ways = []
    if due & awake:
        ways.append(Way(say("checks.those_due", n=len(due & awake)), _only(reading, told.kind, due)))
    if awake - due:
        watered, n = told.kind is Kind.WATERED, len(awake)
        label = say("checks.not_sealed", n=n) if watered else say("checks.not_at_rest", n=n)
        ways.append(Way(label, _only(reading, told.kind, awake)))
    ways.append(Way(say("checks.all_those", n=len(told.specimens)), reading))
    names = names_of(turn, [tag for tag in told.specimens if tag in resting])
    return Doubt("resting", say_of("checks.some_rest", told.kind.value, names=names), tuple(ways))


def _those_of_the_round(
    turn: Turn, reading: Reading, told: Entry, due: Collection[str], replaced: Collection[int]
) -> Doubt | None:
    """Whether a meal of many is one of those that the open round asks for alone."""
    occurrence = newest_open(turn) if told.kind in _MEALS and not replaced else None
    if occurrence is None or occurrence.day != told.day:
        return None
    asked = [tag for tag in told.specimens if tag in due]
    others = [tag for tag in told.specimens if tag not in due]
    if not asked or not others or not named_in(reading.text, turn.shelf.all_names).isdisjoint(others):
        return None
    ways = (
        Way(say("checks.those_due", n=len(asked)), _only(reading, told.kind, asked)),
        Way(say("checks.all_those", n=len(told.specimens)), reading),
    )
    return Doubt("resting", say_of("checks.not_due", told.kind.value, names=names_of(turn, others)), ways)


def _is_of_many(turn: Turn, entry: Entry) -> bool:
    if entry.kind not in _TASK or len(entry.specimens) < _MANY:
        return False
    return entry.kind is not Kind.WATERED or _is_everybody(turn, entry)


def _is_everybody(turn: Turn, entry: Entry) -> bool:
    return len(entry.specimens) >= len(turn.shelf.specimens)


def _is_asked_as_sealed(turn: Turn, entry: Entry, resting: Collection[str]) -> bool:
    """Whether only sealed ones of a part of the shelf rest: whether these opened is asked in any case."""
    if entry.kind is not Kind.FED or _is_everybody(turn, entry):
        return False
    known = [turn.facts.get(tag) for tag in resting]
    return all(facts is not None and facts.state.sealed_since is not None for facts in known)


def _rests(facts: SpecimenFacts | None, day: date) -> bool:
    """Whether an animal rested on a day, but for one that only settles in."""
    rest = rest_of(facts, day) if facts else None
    if facts is None or rest is None or rest.since > day:
        return False
    held = facts.held_since is not None and facts.held_since <= day
    return rest.reason is not RestReason.SETTLING or held


def _is_sealed(facts: SpecimenFacts | None, day: date) -> bool:
    """Whether an animal was sealed on a day: a dish that nobody could reach."""
    since = facts.state.sealed_since if facts else None
    return since is not None and since <= day


def _due(turn: Turn, entry: Entry) -> set[str]:
    """Those of whom it is due today; nobody where another day is told of."""
    if entry.day != turn.today:
        return set()
    items = items_of_day(turn, turn.today)
    return {item["tag"] for item in items if item["task"] == _TASK[entry.kind] and is_open(item)}


def _told_before(turn: Turn, entry: Entry, tags: Iterable[str], replaced: Collection[int]) -> set[str]:
    """Those of whom the entries that are replaced said the same."""
    if not replaced:
        return set()
    rows = turn.work.journal.entries(turn.shelf_id, tags=tuple(tags), kinds=(entry.kind,))
    return {tag for row in rows if row.id in replaced for tag in row.entry.specimens}


def _only(reading: Reading, kind: Kind, tags: Collection[str]) -> Reading:
    """The reading with its entries of many of that kind narrowed to these animals."""
    narrowed = [
        replace(entry, specimens=tuple(tag for tag in entry.specimens if tag in tags))
        if entry.kind is kind and len(entry.specimens) >= _MANY
        else entry
        for entry in reading.entries
    ]
    kept = tuple(
        now for now, before in zip(narrowed, reading.entries, strict=True) if now.specimens or now == before
    )
    return replace(reading, entries=kept)
