"""Water, looks, leftovers and rehousing: what goes on whether or not a specimen rests."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Final

from bot.husbandry import practice
from bot.husbandry.animal import GENERAL_RULE, GROWING, KEEPERS_SETTING, OWN_RECORD
from bot.husbandry.enclosure import home_for, least_volume_l, near_a_molt
from bot.husbandry.water_places import Watered, WaterPlace, water_places
from bot.husbandry.watering import Watering, dish_of, watering_of
from bot.round.intervals import keepers_word, water_words
from bot.round.meals import meal_plan
from bot.round.model import RestReason, Task, TaskKind, Why
from bot.round.reasons import why
from bot.round.rests import Case
from bot.terms.lengths import days_long
from bot.terms.schedule import Care, Said
from bot.terms.value_object import value_object

# An enum that is asked for a member takes ten times as long as a name: several times for each animal.
_WATER, _ANY, _DISH = Care.WATER, WaterPlace.ANY, WaterPlace.DISH


@value_object()
class WaterPlan:
    """The day the next water falls due, and the day by which it should not wait any longer.

    ``overdue_days`` counts only where water is on record.
    """

    due: date
    watered: Watered
    lasts: Watering

    @property
    def latest(self) -> date:
        """By when it should not wait any longer."""
        return self.due if self.watered.last is None else self.watered.last + days_long(self.lasts.late)


def water_plan(case: Case) -> WaterPlan:
    """The next water, in the dish or the substrate where they are told apart; where both are due, in both."""
    plans = water_plans(case)
    if len(plans) == 1:
        return plans[0]
    one, other = plans
    first, last = (one, other) if one.due <= other.due else (other, one)
    if last.due > case.on:
        return first
    return replace(first, watered=Watered(_ANY, first.watered.last))


def water_plans(case: Case) -> list[WaterPlan]:
    """The next water for each place that is told apart: more often after a molt, and never paused.

    What the keeper has said of how often is of water as a whole, or of the dish or the misting alone.
    """
    whole, of_places = keepers_word(case, _WATER), water_words(case)
    if of_places:
        places = water_places(case.animal, of_places)
        return [_plan(case, watered, watering(case, watered.place)) for watered in places]
    if whole is not None:
        return [_plan(case, Watered(_ANY, case.state.last_watered), _by_word(case, whole))]
    return [_plan(case, watered, _by_rule(case, watered.place)) for watered in water_places(case.animal)]


def _plan(case: Case, watered: Watered, lasts: Watering) -> WaterPlan:
    last = watered.last
    return WaterPlan(case.on if last is None else last + days_long(lasts.days), watered, lasts)


def watering(case: Case, place: WaterPlace = _ANY) -> Watering:
    """How long one watering of a place lasts: the keeper's word, else what practice, air and record say."""
    said = water_words(case).get(place) or keepers_word(case, _WATER)
    return _by_rule(case, place) if said is None else _by_word(case, said)


def _by_word(case: Case, said: Said) -> Watering:
    days = min(said.days, practice.WATER_WHILE_FRESH.days) if case.fresh else said.days
    return Watering.fixed(days, KEEPERS_SETTING)


def _by_rule(case: Case, place: WaterPlace) -> Watering:
    if place is _DISH:
        return dish_of(case.animal, fresh=case.fresh)
    return watering_of(case.animal, case.on, fresh=case.fresh, air=case.facts.air)


def water_task(case: Case) -> Task | None:
    """The watering due on the day."""
    plan = water_plan(case)
    if plan.due > case.on:
        return None
    return Task(
        tag=case.tag, task=TaskKind.WATER, why=_water_reason(case, plan), overdue_days=case.since(plan.due)
    )


def _water_reason(case: Case, plan: WaterPlan) -> Why:
    state, watered = case.state, plan.watered
    moisture = case.animal.species.moisture.value
    if state.sealed_since is not None:
        days = case.since(state.sealed_since)
        return why(
            "water_sealed", GENERAL_RULE, sealed_since=state.sealed_since, days=days, moisture=moisture
        )
    if watered.place is _ANY and state.premolt_since is not None:
        days = case.since(state.premolt_since)
        return why(
            "water_premolt", GENERAL_RULE, premolt_since=state.premolt_since, days=days, moisture=moisture
        )
    if watered.place is _ANY and case.fresh and state.last_molted is not None:
        days = case.since(state.last_molted)
        return why("water_fresh", GENERAL_RULE, molted_on=state.last_molted, days=days, moisture=moisture)
    if watered.last is None:
        return why("water_no_record", GENERAL_RULE, moisture=moisture)
    return why(
        _WATER_DUE[watered.place],
        plan.lasts.basis,
        last_watered=watered.last,
        days=case.since(watered.last),
        every=plan.lasts.days,
        moisture=moisture,
    )


_WATER_DUE: Final = {
    WaterPlace.ANY: "water_due",
    WaterPlace.DISH: "water_dish",
    WaterPlace.SUBSTRATE: "water_substrate",
}


def offer_task(case: Case) -> Task | None:
    """An offer whose outcome is not known: a look the next morning, then what is left comes out.

    At once where the animal is soft or in premolt. A sealed burrow is only looked at from outside.
    Once the next meal would be due, the old offer is not asked about any more.
    """
    offered = case.state.open_offer
    if offered is None:
        return None
    days = case.since(offered)
    facts = {"offered_on": offered, "days": days}
    if case.state.sealed_since is not None:
        return _offer_sealed(case, offered, case.state.sealed_since)
    if _soft_or_premolt(case):
        reason = why("remove_offer_soft", GENERAL_RULE, **facts)
        return Task(tag=case.tag, task=TaskKind.REMOVE, why=reason, overdue_days=max(0, days))
    if days < 1 or (case.rest is None and meal_plan(case).due <= case.on):
        return None
    task = TaskKind.CHECK if days == 1 else TaskKind.REMOVE
    key = "check_offer" if days == 1 else "remove_offer"
    return Task(tag=case.tag, task=task, why=why(key, OWN_RECORD, **facts), overdue_days=days - 1)


def _offer_sealed(case: Case, offered: date, sealed: date) -> Task | None:
    looked = case.state.last_checked
    days = case.since(offered)
    if days < 1 or (looked is not None and looked >= max(offered, sealed)):
        return None
    reason = why("check_offer_sealed", GENERAL_RULE, offered_on=offered, days=days, sealed_since=sealed)
    return Task(tag=case.tag, task=TaskKind.CHECK, why=reason, overdue_days=days - 1)


def _soft_or_premolt(case: Case) -> bool:
    return case.fresh or case.state.premolt_since is not None


def long_rest_task(case: Case) -> Task | None:
    """A seal or a premolt that has lasted long is looked at from outside, now and then."""
    state = case.state
    since = state.sealed_since or state.premolt_since
    if since is None:
        return None
    due = since + days_long(practice.LONG_REST[case.animal.stage].days)
    if state.last_checked is not None and state.last_checked >= since:
        due = max(due, state.last_checked + days_long(practice.LOOK_AGAIN.days))
    if due > case.on:
        return None
    days = case.since(since)
    reason = (
        why("check_sealed", GENERAL_RULE, sealed_since=since, days=days)
        if state.sealed_since is not None
        else why("check_premolt", GENERAL_RULE, premolt_since=since, days=days)
    )
    return Task(tag=case.tag, task=TaskKind.CHECK, why=reason, overdue_days=case.since(due))


def rehouse_task(case: Case) -> Task | None:
    """A home outgrown by volume, or by molts since the last move; clear of premolt and soft cuticle."""
    reason = _too_small(case) or _molts_in_home(case)
    if reason is None or _must_not_be_moved(case):
        return None
    since = case.state.span_on if reason.key == "rehouse_small" else case.state.last_molted
    return Task(
        tag=case.tag,
        task=TaskKind.REHOUSE,
        why=reason,
        overdue_days=max(0, case.since(since)) if since is not None else 0,
    )


def _must_not_be_moved(case: Case) -> bool:
    """At rest (unless only held), near a molt, soft, refusing, guarding a sac, or with prey in there."""
    rest, state = case.rest, case.state
    resting = rest is not None and rest.reason is not RestReason.HELD
    unsure = state.refusals >= 2 or state.open_offer is not None or state.sac_since is not None
    return resting or case.hardened_on is not None or unsure or near_a_molt(case.animal, case.on)


def _too_small(case: Case) -> Why | None:
    volume, span = case.state.volume_l, case.animal.measured_span_cm
    if volume is None or span is None:
        return None
    habit = case.animal.species.habit
    if float(volume) >= least_volume_l(habit, span):
        return None
    needs_l = round(home_for(habit, span).volume_l, 1)
    return why("rehouse_small", GENERAL_RULE, span_cm=span, volume_l=volume, needs_l=needs_l)


def _molts_in_home(case: Case) -> Why | None:
    """Only for a growing animal whose home's volume is not known."""
    state = case.state
    if state.molts_in_home < practice.MOLTS_IN_ONE_HOME.value or state.volume_l is not None:
        return None
    home_since = state.last_rehoused or case.facts.added_on or state.first_entry
    if home_since is None or case.animal.stage not in GROWING:
        return None
    return why("rehouse_molts", GENERAL_RULE, molts=state.molts_in_home, home_since=home_since)
