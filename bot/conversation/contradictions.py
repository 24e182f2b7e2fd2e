"""What a message says against the record.

A refusal beside a meal, a meal beside a molt, a sac beside a sac, two genera paired.

Which of the two holds is asked; nothing is put in the place of anything, and nothing beside it, unasked.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.changing import replaced
from bot.conversation.doubts import Doubt, Way, each, names_of, without
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.journal import MOLT_KINDS
from bot.husbandry.practice import NO_MEAL_AFTER_MOLT
from bot.reading.model import Reading
from bot.terms import Kind, SacEvent
from storage.records import JournalEntry


def refused_beside_a_meal(turn: Turn, reading: Reading, gone: Collection[int]) -> Doubt | None:
    """ "Ink did not eat today" where she ate by the journal: was that meal none, or are there two?"""
    hits: dict[str, list[JournalEntry]] = {}
    for entry, tag in each(reading, Kind.REFUSED):
        facts = turn.facts.get(tag)
        if facts is None or facts.state.last_fed is None or facts.state.last_fed < entry.day:
            continue
        rows = turn.work.journal.entries(
            turn.shelf_id, tags=(tag,), kinds=(Kind.FED,), since=entry.day, until=entry.day
        )
        if meals := [row for row in rows if row.id not in gone]:
            hits[tag] = meals
    if not hits:
        return None
    first = next(iter(hits.values()))[0]
    text = say(
        "checks.ate_already",
        who=names_of(turn, hits),
        what=turn.told(first.entry),
        day=wording.day_of(first.entry.day, turn.today),
    )
    every = tuple(row for rows in hits.values() for row in rows)
    ways = (
        Way(say("checks.no_meal_then"), _what_was_left(reading, hits), instead=every),
        Way(say("checks.both"), reading),
        Way(say("checks.meal_stands"), without(reading, Kind.REFUSED, hits)),
    )
    return Doubt("ate_already", text, ways)


def _what_was_left(reading: Reading, meals: Mapping[str, Sequence[JournalEntry]]) -> Reading:
    """The refusals with the prey that was told as eaten, where they name none of their own."""
    bare = {tag for entry, tag in each(reading, Kind.REFUSED) if tag in meals and not entry.details()}
    left = tuple(replaced(row.entry, {"kind": Kind.REFUSED}) for tag in bare for row in meals[tag])
    rest = without(reading, Kind.REFUSED, bare)
    return replace(rest, entries=rest.entries + left)


_SOFT: Final = timedelta(days=NO_MEAL_AFTER_MOLT.days)


def ate_with_soft_fangs(turn: Turn, reading: Reading, gone: Collection[int]) -> Doubt | None:
    """A meal on the day of a molt or the next, told after the molt or before it: one of the two is wrong."""
    return _meal_after_molt(turn, reading, gone) or _molt_before_meal(turn, reading, gone)


def _meal_after_molt(turn: Turn, reading: Reading, gone: Collection[int]) -> Doubt | None:
    for entry, tag in each(reading, Kind.FED):
        molted = _molt_near(turn, reading, tag, entry.day, gone)
        if molted is None:
            continue
        text = say(
            "checks.meal_after_molt",
            who=turn.called(tag),
            what=turn.told(entry),
            day=wording.day_of(molted, turn.today),
        )
        ways = (
            Way(say("checks.ate_none"), without(reading, Kind.FED, {tag}), word="no"),
            Way(say("checks.it_ate"), reading, word="yes"),
        )
        return Doubt("soft_fangs", text, ways)
    return None


def _molt_before_meal(turn: Turn, reading: Reading, gone: Collection[int]) -> Doubt | None:
    for entry, tag in each(reading, *MOLT_KINDS):
        meals = _meals_near(turn, tag, entry.day, gone)
        if not meals:
            continue
        meal = meals[0].entry
        text = say(
            "checks.molt_before_meal",
            who=turn.called(tag),
            what=turn.told(meal),
            day=wording.day_of(meal.day, turn.today),
        )
        ways = (
            Way(say("checks.molted_only"), reading, instead=meals),
            Way(say("checks.ate_only"), without(reading, entry.kind, {tag})),
            Way(say("checks.both"), reading),
        )
        return Doubt("soft_fangs", text, ways)
    return None


def _molt_near(turn: Turn, reading: Reading, tag: str, day: date, gone: Collection[int]) -> date | None:
    """The day of a molt so shortly before a day that nothing can have been eaten on it."""
    told = [molt.day for molt, who in each(reading, *MOLT_KINDS) if who == tag]
    facts = turn.facts.get(tag)
    last = facts.state.last_molted if facts else None
    if last is not None and not told and timedelta() <= day - last <= _SOFT:
        row = turn.work.journal.last(turn.shelf_id, tag, MOLT_KINDS)
        told = [row.entry.day] if row is not None and row.id not in gone else []
    return next((molt for molt in told if timedelta() <= day - molt <= _SOFT), None)


def _meals_near(turn: Turn, tag: str, molted: date, gone: Collection[int]) -> tuple[JournalEntry, ...]:
    """The meals on record that a molt on that day makes impossible."""
    facts = turn.facts.get(tag)
    if facts is None or facts.state.last_fed is None or facts.state.last_fed < molted:
        return ()
    rows = turn.work.journal.entries(
        turn.shelf_id, tags=(tag,), kinds=(Kind.FED,), since=molted, until=molted + _SOFT
    )
    return tuple(row for row in rows if row.id not in gone)


def second_sac(turn: Turn, reading: Reading, gone: Collection[int]) -> Doubt | None:
    """A sac of an animal that guards one by the journal: another one, or the same told again?"""
    for entry, tag in each(reading, Kind.SAC):
        facts = turn.facts.get(tag)
        since = facts.state.sac_since if facts else None
        if entry.event is not SacEvent.LAID or since is None:
            continue
        last = turn.work.journal.last(turn.shelf_id, tag, (Kind.SAC,))
        if last is None or last.id in gone:
            continue
        text = say("checks.sac_already", who=turn.called(tag), day=wording.day_in_full(since, turn.today))
        ways = (
            Way(say("checks.same_sac"), without(reading, Kind.SAC, {tag})),
            Way(say("checks.new_sac"), reading),
        )
        return Doubt("second_sac", text, ways)
    return None


def two_genera(turn: Turn, reading: Reading, _gone: Collection[int]) -> Doubt | None:
    """A pairing of animals whose genera differ: hardly one, and hardly meant."""
    for entry, tag in each(reading, Kind.PAIRED):
        if entry.partner is None:
            continue
        species = [animal.species for animal in turn.animals((tag, entry.partner))]
        if len({name.split()[0] for name in species if name}) < 2:
            continue
        one, other = (f"{turn.called(who)}, {turn.shelf.by_tag[who].species}" for who in (tag, entry.partner))
        text = say("checks.two_genera", one=one, other=other)
        ways = (
            Way(say("checks.paired_so"), reading, word="yes"),
            Way(say("checks.not_paired"), without(reading, Kind.PAIRED, {tag}), word="no"),
        )
        return Doubt("two_genera", text, ways)
    return None
