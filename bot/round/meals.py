"""When a specimen is next offered food, why, and what: by its journal first, then by practice."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial

from bot.husbandry import practice
from bot.husbandry.animal import GENERAL_RULE, OWN_RECORD
from bot.husbandry.feeding import meal_for, retry_days
from bot.husbandry.premolt import perhaps_in_premolt, premolt_chance
from bot.round.intervals import Interval, feeding_interval, gap_after_meal, wait_in_season
from bot.round.model import Task, TaskKind, Why
from bot.round.reasons import why
from bot.round.rests import Case
from bot.terms import Stage
from bot.terms.lengths import days_long
from bot.terms.value_object import value_object


@value_object()
class MealPlan:
    """The day a meal falls due, and whether it is a feeding or a look at the fangs before it.

    Why is put together where it is told: of most animals only the day is asked.
    """

    due: date
    task: TaskKind
    because: Callable[[], Why]

    @property
    def why(self) -> Why:
        """Why it falls due."""
        return self.because()


def meal_plan(case: Case) -> MealPlan:
    """The next meal, whether or not the specimen rests now: never before a rest that has a known end."""
    plan = _after_molt(case) or _after_opening(case) or _in_turn(case)
    ends = case.at_home_on, case.arrival_over_on, case.held_until, case.first_meal_from
    floors = [day for day in ends if day is not None]
    return MealPlan(max(plan.due, *floors), plan.task, plan.because) if floors else plan


def meal_task(case: Case) -> Task | None:
    """The feeding, or the look before it, that is due on the day; none while it rests."""
    if case.rest is not None:
        return None
    plan = meal_plan(case)
    if plan.due > case.on:
        return None
    meal = meal_for(case.animal, case.on)
    return Task(
        tag=case.tag,
        task=plan.task,
        why=plan.why,
        prey=meal.prey,
        size=str(meal.size),
        count=meal.count * max(1, case.state.lot_size),
        overdue_days=case.since(plan.due),
    )


def _after_molt(case: Case) -> MealPlan | None:
    """The first meal after a molt: not before the fangs were seen to be black, or must be by now."""
    state = case.state
    if case.hardened_on is None or state.last_molted is None:
        return None
    due = max([case.hardened_on, *_tries_since(case, state.last_molted)])
    facts = {"molted_on": state.last_molted, "days": case.since(state.last_molted)}
    if state.fangs_black or case.surely_hardened(state.last_molted):
        return MealPlan(due, TaskKind.FEED, lambda: why("feed_after_molt", GENERAL_RULE, **facts))
    again = _looked_again(case, due)
    return MealPlan(again, TaskKind.CHECK, lambda: why("check_fangs", GENERAL_RULE, **facts))


def _looked_again(case: Case, due: date) -> date:
    """The day of the next look at fangs that were found soft: the day after."""
    found = case.state.fangs_on
    return due if found is None else max(due, found + days_long(1))


def _after_opening(case: Case) -> MealPlan | None:
    """A burrow that opened with no molt on record: it may have molted inside, so a look comes first."""
    state, opened = case.state, case.state.last_opened
    if opened is None or (state.last_fed is not None and state.last_fed >= opened):
        return None
    due = max([opened, *_tries_since(case, opened)])
    if state.last_fed is not None:
        due = max(due, state.last_fed + days_long(gap_after_meal(case, state.last_fed).days))
    if state.fangs_black or case.surely_hardened(opened):
        return MealPlan(due, TaskKind.FEED, _in_turn(case).because)
    return MealPlan(
        _looked_again(case, due),
        TaskKind.CHECK,
        lambda: why("check_opened", OWN_RECORD, opened_on=opened, days=case.since(opened)),
    )


def _tries_since(case: Case, day: date) -> list[date]:
    """The days on which a refused or still open try since that day asks for the next one."""
    state = case.state
    tries = []
    if state.refusals and state.last_refused is not None and state.last_refused >= day:
        tries.append(state.last_refused + days_long(_retry(case, state.last_refused)))
    if state.open_offer is not None and state.open_offer >= day:
        tries.append(state.open_offer + days_long(feeding_interval(case, state.open_offer).days))
    return tries


def _in_turn(case: Case) -> MealPlan:
    """The meal that follows from the last one, the last try, or nothing at all."""
    state = case.state
    if state.open_offer is not None:
        return _after_offer(case, state.open_offer)
    if state.refusals and state.last_refused is not None:
        return _after_refusal(case, state.last_refused)
    if state.last_fed is not None:
        return _after_meal(case, state.last_fed)
    return _without_record(case)


def _after_offer(case: Case, offered: date) -> MealPlan:
    due = offered + days_long(feeding_interval(case, offered).days)
    return MealPlan(
        due,
        TaskKind.FEED,
        lambda: why("feed_after_offer", OWN_RECORD, offered_on=offered, days=case.since(offered)),
    )


def _after_refusal(case: Case, refused: date) -> MealPlan:
    """Another try after some days, but not sooner than the meal before it would ask for one."""
    due = refused + days_long(_retry(case, refused))
    if case.state.last_fed is not None:
        last_fed = case.state.last_fed
        due = max(due, last_fed + days_long(gap_after_meal(case, last_fed).days))
    return MealPlan(due, TaskKind.FEED, partial(_why_after_refusal, case, refused))


def _why_after_refusal(case: Case, refused: date) -> Why:
    return why(
        "feed_after_refusal_premolt" if perhaps_in_premolt(case.animal) else "feed_after_refusal",
        OWN_RECORD,
        refused_on=refused,
        days=case.since(refused),
        refusals=case.state.refusals,
    )


def _retry(case: Case, refused: date) -> int:
    """Days to another try, by how likely the refusal was one of premolt."""
    days = retry_days(case.animal.stage, premolt_chance(case.animal, refused))
    return wait_in_season(case, days, refused)


def _after_meal(case: Case, last_fed: date) -> MealPlan:
    interval = gap_after_meal(case, last_fed)
    due = last_fed + days_long(interval.days)
    return MealPlan(due, TaskKind.FEED, partial(_why_after_meal, case, last_fed, interval))


def _why_after_meal(case: Case, last_fed: date, interval: Interval) -> Why:
    days, sac = case.since(last_fed), case.state.sac_since
    if sac is not None:
        return why("feed_with_sac", interval.basis, last_fed=last_fed, days=days, sac_since=sac)
    key = "feed_male" if case.animal.stage is Stage.MATURE_MALE else "feed_due"
    if interval.longer:
        key = "feed_after_big_meal"
    elif interval.slow:
        key = "feed_slow_months"
    elif interval.found is not None:
        key = f"feed_{interval.found.condition.value}"
        return why(
            key, interval.basis, last_fed=last_fed, days=days, every=interval.days, found_on=interval.found.on
        )
    return why(key, interval.basis, last_fed=last_fed, days=days, every=interval.days)


def _without_record(case: Case) -> MealPlan:
    added = case.facts.arrived_on
    if added is None or added > case.on:
        return MealPlan(case.on, TaskKind.FEED, lambda: why("feed_no_record", GENERAL_RULE))
    settled = added + days_long(practice.SETTLING_AFTER_ARRIVAL.days)
    return MealPlan(
        settled,
        TaskKind.FEED,
        lambda: why("feed_after_arrival", GENERAL_RULE, added_on=added, days=case.since(added)),
    )
