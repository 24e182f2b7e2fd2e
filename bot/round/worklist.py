"""The day's round: from a shelf and a date to what is to be done and who is left in peace.

Pure: the same facts and date give the same round. Each specimen's lines depend on that specimen alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from bot.round.care import long_rest_task, offer_task, rehouse_task, water_plan, water_task
from bot.round.meals import meal_plan, meal_task
from bot.round.model import NextUp, SpecimenFacts, Task, Worklist
from bot.round.rests import Case, rest_of

__all__ = ["next_for", "rest_of", "worklist"]

#: In the order in which they are done at one enclosure.
_TASKS: Final[tuple[Callable[[Case], Task | None], ...]] = (
    offer_task,
    meal_task,
    long_rest_task,
    water_task,
    rehouse_task,
)


def worklist(facts: Sequence[SpecimenFacts], on: date) -> Worklist:
    """The tasks and rests of a day, in the order of ``facts``, which is the shelf's."""
    cases = [Case(one, on) for one in facts if is_kept(one, on)]
    rests = [rest for case in cases if (rest := case.rest) is not None]
    there = [case for case in cases if case.state.missing_since is None]  # nobody else can be fed or watered
    # One rule for all of them, then the next: each stays in the processor's cache, which saves a tenth.
    by_rule = [[rule(case) for case in there] for rule in _TASKS]
    tasks = [task for of_one in zip(*by_rule, strict=True) for task in of_one if task is not None]
    return Worklist(on=on, tasks=tuple(tasks), rests=tuple(rests))


def next_for(facts: SpecimenFacts, on: date) -> NextUp:
    """What comes next for one specimen after what was just logged."""
    case = Case(facts, on)
    rest, water, rehouse = case.rest, water_plan(case), rehouse_task(case)
    plan = None if rest is not None and rest.expected_until is None else meal_plan(case)
    return NextUp(
        tag=case.tag,
        rest=rest,
        feed_on=None
        if plan is None
        else max(plan.due, on, rest.expected_until if rest and rest.expected_until else on),
        feed_task=plan.task if plan else None,
        feed_why=plan.why if plan else None,
        water_on=max(water.due, on),
        water_by=max(water.latest, on),
        water_place=water.watered.place,
        rehouse=rehouse.why if rehouse else None,
    )


def is_kept(facts: SpecimenFacts, on: date) -> bool:
    """Still on the shelf on that day."""
    return facts.state.gone_on is None or facts.state.gone_on > on
