"""A keeper's own schedule: "feed slings every 4 days", "water Ink every 3 days", and back to the rule.

What is said for a stage, a species or everyone is kept for the shelf: it holds for those that come later too,
and no more for one that has grown out of it. What was said for fewer stands above it until the keeper says
otherwise, and is told. It stands above every rule of thumb, and rest stands above it: a sealed burrow gets no
food, whatever was said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from bot.conversation import next_up, wording
from bot.conversation.model import Reply
from bot.conversation.schedule_words import (
    by_days,
    every,
    group_name,
    names,
    said_for_each,
)
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, undo_row
from bot.conversation.wording import capital
from bot.husbandry.species import species_of
from bot.reading.model import Reminder
from bot.reading.wanted.how_often import animals_said
from bot.reading.wanted.schedules import LONGEST_INTERVAL, scheduled_work
from bot.reading.wanted.wanted import Instruction
from bot.round.intervals import WORK_AT, is_of, keepers_word, water_words
from bot.round.model import OWN_INTERVALS, SpecimenFacts
from bot.round.rests import Case
from bot.round.worklist import next_for
from bot.terms.schedule import Care, Group, Scope
from storage.records import Prompt

#: Half a week in whole days.
_TWICE_A_WEEK: Final = (3, 4)


def own_schedule(turn: Turn, wanted: Reminder) -> list[Reply] | None:
    """The schedule that a message sets; ``None`` where it asks for a reminder, not for a schedule."""
    work = work_of_round(turn, wanted) if scheduled_work(turn.incoming.text) else None
    if work is None or wanted.every_days is None or wanted.time is not None or wanted.day is not None:
        return None
    if not 1 <= wanted.every_days <= LONGEST_INTERVAL:
        return None
    return _set(turn, work, wanted.specimens, wanted.every_days)


def work_of_round(turn: Turn, wanted: Reminder) -> Care | None:
    """The work that a reminder is of, where the round asks for it of the same animals by itself.

    ``None`` where it has a name that nobody here has, or says more than what is to be fed or watered.
    """
    said = scheduled_work(wanted.what)
    whom = animals_said(said[1], turn.shelf.names) if said is not None and wanted.specimens else ()
    return Care(said[0]) if said is not None and set(whom) == set(wanted.specimens) else None


def so_often(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How often a stage, a species, everyone or one animal is fed or watered from now on."""
    work = Care(wanted.value or "feed")
    if wanted.groups:
        return _set_several(turn, work, wanted)
    if wanted.days is None:
        return [_which_interval(turn, work, wanted)]
    if wanted.group is None:
        return _set(turn, work, wanted.tags, wanted.days)
    return _set_group(turn, work, as_filed(wanted.group), wanted.days)


def _which_interval(turn: Turn, work: Care, wanted: Instruction) -> Reply:
    """ "twice a week": which of the two intervals in whole days it comes closest to."""
    asked: dict[str, Any] = {"do": "schedule_set", "work": work.value, "tags": list(wanted.tags)}
    who = wording.called(turn.animals(wanted.tags), most=8)
    if wanted.group is not None:
        group = as_filed(wanted.group)
        asked |= {"group": [group.scope.value, group.value]}
        who = group_name(group)
    row = [Choice(capital(every(days)), asked | {"days": days}) for days in _TWICE_A_WEEK]
    return turn.reply(say("schedule.twice_a_week", who=capital(who)), [row])


def pressed_interval(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """One of the intervals was chosen."""
    if "group" not in action:
        return _set(turn, Care(action["work"]), action["tags"], action["days"])
    return _set_group(turn, Care(action["work"]), _group_of(action), action["days"])


def _group_of(action: Mapping[str, Any]) -> Group:
    scope, value = action["group"]
    return Group(Scope(scope), value)


def by_the_rule(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Feeding or watering by the rule of thumb again."""
    work = Care(wanted.value or "feed")
    if wanted.groups:
        return _set_several(turn, work, wanted)
    if wanted.group is not None:
        return _set_group(turn, work, as_filed(wanted.group), None)
    if len(wanted.tags) != 1 and not wanted.every:
        return [turn.reply(say("schedule.which"))]
    return _set(turn, work, wanted.tags, None)


def as_filed(group: Group) -> Group:
    """The group with its species under the name that the species file has for it now."""
    if group.scope is not Scope.SPECIES or group.value is None:
        return group
    return replace(group, value=species_of(group.value).scientific_name)


# --- for certain animals ----------------------------------------------------------------------


def _set(turn: Turn, work: Care, tags: Sequence[str], days: int | None) -> list[Reply]:
    change_id = turn.open_change()
    for tag in tags:
        turn.work.shelves.alter(change_id, tag, **{OWN_INTERVALS[work]: days})
    turn.refresh()
    animals = turn.animals(tags)
    how = every(days) if days is not None else _without_own(turn, work, tags[0])
    lines = [say_of("schedule.set", work, who=wording.called(animals, most=8), every=how)]
    if len(animals) > 1:
        lines += [say("schedule.only_these")] if days is not None else []
    elif (facts := turn.facts.get(animals[0].tag)) is not None:
        plan = next_for(facts, turn.today)
        rest = next_up.rest_line(turn, animals[0].tag)
        say_next = next_up.meal_sentence if work is Care.FEED else next_up.water_sentence
        lines.append(rest if rest and work is Care.FEED else say_next(plan, turn.today))
        lines.append(_beside(Case(facts, turn.today), work))
    text = " ".join(line for line in lines if line)
    turn.note_done(change_id, lines[0])
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]


def _beside(case: Case, work: Care) -> str:
    """What else is said of an animal's water and holds: of its dish, its misting, or as a whole."""
    places = [WORK_AT[place] for place in water_words(case)]
    holds = [*places, *([Care.WATER] if len(places) < len(WORK_AT) else [])]
    words = {one: keepers_word(case, one) for one in holds if Care.FEED is not work is not one}
    said = [say_of("schedule.how", one, every=every(word.days)) for one, word in words.items() if word]
    return say("schedule.beside", list=wording.listed(said)) if said else ""


def _without_own(turn: Turn, work: Care, tag: str) -> str:
    """What holds for an animal of which nothing is said any more: its group's, or the rule."""
    facts = turn.facts.get(tag)
    said = keepers_word(Case(facts, turn.today), work) if facts is not None else None
    return say("schedule.rule") if said is None or said.group is None else _as_for(said.group, said.days)


def _as_for(group: Group, days: int) -> str:
    return say("schedule.as_group", every=every(days), group=group_name(group))


# --- for a stage, a species, everyone ---------------------------------------------------------


@dataclass(frozen=True)
class Spread:
    """For whom of a group what holds now: the group's own word, that of fewer or of more, or the rule."""

    members: Sequence[SpecimenFacts]
    by_this: Sequence[SpecimenFacts]
    own: Mapping[int, Sequence[SpecimenFacts]]
    narrower: Mapping[Group, int]
    wider: Mapping[Group, int]
    by_rule: Sequence[SpecimenFacts]


def spread_of(turn: Turn, work: Care, group: Group) -> Spread:
    """What holds for the animals of a group now, and whose word it is."""
    cases = [case for facts in turn.facts.all() if is_of(case := Case(facts, turn.today), group)]
    said = [(case.facts, keepers_word(case, work)) for case in cases]
    groups = {one.group: one.days for _, one in said if one is not None and one.group is not None}
    return Spread(
        members=[case.facts for case in cases],
        by_this=[facts for facts, one in said if one is not None and one.group == group],
        own=by_days((case.facts for case in cases), work),
        narrower={other: days for other, days in groups.items() if other.scope.narrower_than(group.scope)},
        wider={other: days for other, days in groups.items() if group.scope.narrower_than(other.scope)},
        by_rule=[facts for facts, one in said if one is None],
    )


def _set_group(turn: Turn, work: Care, group: Group, days: int | None) -> list[Reply]:
    change_id = turn.open_change()
    turn.work.schedules.set(change_id, work, group, days)
    turn.refresh()
    spread = spread_of(turn, work, group)
    who = capital(group_name(group))
    if days is not None:
        lines = [say_of("schedule.set", work, who=who, every=every(days)), _later(group), _today(spread)]
    elif spread.wider:
        lines = [say("schedule.no_more", who=who), *_wider(spread)]
    else:
        lines = [say_of("schedule.set", work, who=who, every=say("schedule.rule"))]
    rows = [undo_row(change_id)]
    if spread.own or spread.narrower:
        lines.append(say("schedule.stays", list=said_for_each(spread.own, spread.narrower)))
        rows.insert(0, [Choice(say("schedule.these_too"), _these_too(work, group, spread))])
    text = " ".join(lines)
    turn.note_done(change_id, lines[0])
    return [turn.reply(text, rows, change_id=change_id)]


def _set_several(turn: Turn, work: Care, wanted: Instruction) -> list[Reply]:
    """The same for several groups, and for single animals named beside them: one change."""
    groups, days = [as_filed(group) for group in wanted.groups], wanted.days
    change_id = turn.open_change()
    for group in groups:
        turn.work.schedules.set(change_id, work, group, days)
    for tag in wanted.tags:
        turn.work.shelves.alter(change_id, tag, **{OWN_INTERVALS[work]: days})
    turn.refresh()
    whom = [group_name(group) for group in groups]
    whom += [animal.called for animal in turn.animals(wanted.tags)]
    how = say("schedule.rule") if days is None else every(days)
    lines = [say_of("schedule.set", work, who=capital(wording.listed(whom)), every=how)]
    if days is not None:
        lines += [_later(max(groups)), _today_of(turn, work, groups)]
    own, narrower = _said_otherwise(turn, work, groups, wanted.tags)
    if own or narrower:
        lines.append(say("schedule.stays", list=said_for_each(own, narrower)))
    text = " ".join(lines)
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]


def _today_of(turn: Turn, work: Care, groups: Sequence[Group]) -> str:
    """Who of some groups that is today."""
    found = [facts for group in groups for facts in spread_of(turn, work, group).by_this]
    return say("schedule.today", who=names(found)) if found else say("schedule.nobody_now")


def _said_otherwise(
    turn: Turn, work: Care, groups: Sequence[Group], tags: Sequence[str]
) -> tuple[dict[int, Sequence[SpecimenFacts]], dict[Group, int]]:
    """What holds for animals of some groups by a word for fewer, besides what was just said."""
    own: dict[int, Sequence[SpecimenFacts]] = {}
    narrower: dict[Group, int] = {}
    for spread in (spread_of(turn, work, group) for group in groups):
        narrower |= {other: days for other, days in spread.narrower.items() if other not in groups}
        for days, animals in spread.own.items():
            others = [one for one in animals if one.specimen.tag not in tags]
            own[days] = [*own.get(days, ()), *(one for one in others if one not in own.get(days, ()))]
    return {days: animals for days, animals in own.items() if animals}, narrower


def _later(group: Group) -> str:
    return say("schedule.later_stage") if group.scope is Scope.STAGE else say("schedule.later")


def _wider(spread: Spread) -> list[str]:
    return [
        say("schedule.wider", group=group_name(other), every=every(days))
        for other, days in spread.wider.items()
    ]


def _today(spread: Spread) -> str:
    if not spread.members:
        return say("schedule.nobody_yet")
    return say("schedule.today", who=names(spread.by_this)) if spread.by_this else say("schedule.nobody_now")


def _these_too(work: Care, group: Group, spread: Spread) -> dict[str, Any]:
    return {
        "do": "schedule_too",
        "work": work.value,
        "group": [group.scope.value, group.value],
        "tags": [facts.specimen.tag for animals in spread.own.values() for facts in animals],
        "groups": [[group.scope.value, group.value] for group in spread.narrower],
    }


def _now_for(turn: Turn, work: Care, group: Group) -> str:
    """What holds for those of a group of whom nothing more is said, be it for the group or for more."""
    days = turn.work.schedules.current(turn.shelf_id).every.get((work, group))
    if days is not None:
        return _as_for(group, days)
    wider = spread_of(turn, work, group).wider
    return ", ".join(_as_for(*one) for one in wider.items()) or say("schedule.rule")


def pressed_these_too(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """What was said for fewer is dropped, so that what was said for the group holds for them too."""
    work, change_id = Care(action["work"]), turn.open_change()
    groups = [Group(Scope(scope), value) for scope, value in action["groups"]]
    tags = [tag for tag in action["tags"] if turn.facts.get(tag) is not None]
    for tag in tags:
        turn.work.shelves.alter(change_id, tag, **{OWN_INTERVALS[work]: None})
    for group in groups:
        turn.work.schedules.set(change_id, work, group, None)
    turn.refresh()
    whom = [group_name(group) for group in groups]
    whom += [animal.called for animal in turn.animals(tags)]
    how = _now_for(turn, work, _group_of(action))
    text = say("schedule.dropped", who=capital(wording.listed(whom, most=8)), every=how)
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]
