"""How often groups are fed and watered, asked and listed; and the months in which meals come less often."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.schedule_words import all_said, every, group_name, said_for_each, slow_months
from bot.conversation.schedules import Spread, as_filed, spread_of
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn, undo_row
from bot.conversation.wording import capital
from bot.reading.wanted.wanted import Instruction
from bot.round.care import watering
from bot.round.intervals import feeding_interval
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.terms import Stage
from bot.terms.schedule import Care, Group, Schedule, Scope, SlowMonths


def how_often(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How often the animals of a group are fed or watered, and whose word that is."""
    assert wanted.group is not None
    work, group = Care(wanted.value or "feed"), as_filed(wanted.group)
    spread, schedule = spread_of(turn, work, group), turn.work.schedules.current(turn.shelf_id)
    lines = []
    days = schedule.every.get((work, group))
    if days is not None:
        lines.append(say_of("schedule.said", work.value, who=capital(group_name(group)), every=every(days)))
    elif spread.by_rule:
        lines.append(_by_the_rule(turn, work, group, spread.by_rule))
    for other, stays in sorted(spread.wider.items()):
        lines.append(say("schedule.wider", group=group_name(other), every=every(stays)))
    if spread.own or spread.narrower:
        lines.append(say("schedule.stays", list=said_for_each(spread.own, spread.narrower)))
    if _are_slowed(turn, work, spread) and schedule.slow is not None:
        lines.append(slow_months(schedule.slow))
    return [fit(turn, " ".join(lines) or say("schedule.nobody", who=capital(group_name(group))))]


def _by_the_rule(turn: Turn, work: Care, group: Group, animals: Iterable[SpecimenFacts]) -> str:
    every_so_many = _rule_of_thumb(turn, work, animals)
    return say_of("schedule.by_rule", work.value, who=capital(group_name(group)), every=every_so_many)


def _rule_of_thumb(turn: Turn, work: Care, animals: Iterable[SpecimenFacts]) -> str:
    """Between how many and how many days the rule of thumb gives these animals now."""
    cases = [Case(facts, turn.today) for facts in animals]
    days = [feeding_interval(case).days if work is Care.FEED else watering(case).days for case in cases]
    least, most = min(days), max(days)
    return every(least) if least == most else say("schedule.every_span", least=least, most=most)


def _are_slowed(turn: Turn, work: Care, spread: Spread) -> bool:
    """Whether slow months touch any of them."""
    grown = (Case(facts, turn.today).animal.stage is not Stage.SLING for facts in spread.by_rule)
    return work is Care.FEED and any(grown)


def list_all(turn: Turn) -> list[Reply]:
    """All that the keeper has said of how often, and what holds for all others by the rule of thumb."""
    lines = lines_said(turn)
    lines += [say("schedule.to_end", who=turn.example)] if lines else [say("schedule.nothing")]
    return [fit(turn, "\n".join([*lines, *_by_stage(turn)]))]


def _by_stage(turn: Turn) -> Iterator[str]:
    """How often those of each stage of whom nothing was said are fed and watered."""
    for work in (Care.FEED, Care.WATER):
        by_rule = {
            group: animals
            for group in (Group(Scope.STAGE, stage.value) for stage in Stage)
            if (animals := spread_of(turn, work, group).by_rule)
        }
        each = [
            say("schedule.one", who=group_name(group), every=_rule_of_thumb(turn, work, animals))
            for group, animals in by_rule.items()
        ]
        if each:
            yield say_of("schedule.rest", work.value, list=", ".join(each))


def lines_said(turn: Turn) -> list[str]:
    """A line for each thing that the keeper has said of how often."""
    return list(all_said(turn.work.schedules.current(turn.shelf_id), turn.facts.all()))


# --- slow months ------------------------------------------------------------------------------


def slow(turn: Turn, wanted: Instruction) -> list[Reply]:
    """In which months meals come less often; what holds, and how to say it, where no months are said."""
    if wanted.months is None:
        now = _now(turn).slow
        return [turn.reply(say("schedule.slow_how") if now is None else slow_months(now))]
    if wanted.months.is_whole_year:
        return [turn.reply(say("schedule.slow_whole_year"))]
    return _slow_set(turn, wanted.months, f"{slow_months(wanted.months)} {say('schedule.slow_not')}")


def no_slow(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """No month is slower than another any more."""
    if _now(turn).slow is None:
        return [turn.reply(say("schedule.slow_none"))]
    return _slow_set(turn, None, say("schedule.slow_ended"))


def _now(turn: Turn) -> Schedule:
    return turn.work.schedules.current(turn.shelf_id)


def _slow_set(turn: Turn, months: SlowMonths | None, text: str) -> list[Reply]:
    change_id = turn.open_change()
    turn.work.schedules.set_slow(change_id, months)
    turn.refresh()
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]
