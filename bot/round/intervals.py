"""How often: the keeper's word first, for the animal, its species, its stage or all; else by practice."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from bot.husbandry import practice
from bot.husbandry.animal import GENERAL_RULE, KEEPERS_SETTING, SPECIES_FILE
from bot.husbandry.feeding import gap_factor, slowed_days
from bot.round.rests import Case
from bot.terms import Stage
from bot.terms.schedule import Care, Group, Said, Scope


@dataclass(frozen=True, slots=True)
class Interval:
    """Days from a taken meal to the next, and what they rest on.

    ``longer`` after a big meal, ``slow`` where the keeper's slow months make it longer.
    """

    days: int
    basis: str
    longer: bool = False
    slow: bool = False


def keepers_word(case: Case, work: Care) -> Said | None:
    """How often the keeper wants it: said for the animal, else for a group that it is of now."""
    own = case.facts.own_interval(work)
    if own is not None:
        return Said(own, None)
    if not case.facts.schedule.every:
        return None
    return case.facts.schedule.said_for(work, case.animal.species_names, case.animal.stage)


def is_of(case: Case, group: Group) -> bool:
    """Whether an animal is of a group now."""
    if group.scope is Scope.SPECIES:
        return group.value in case.animal.species_names
    return group.scope is Scope.SHELF or case.animal.stage.value == group.value


def feeding_interval(case: Case, since: date | None = None) -> Interval:
    """Days from a meal on a day, or today, to the next: the keeper's, else by stage and pace of the species.

    Slow months make only the latter longer, and never for slings.
    """
    said = keepers_word(case, Care.FEED)
    if said is not None:
        return Interval(said.days, KEEPERS_SETTING)
    return _in_season(case, _by_the_rule(case), since or case.on)


def gap_after_meal(case: Case, last_fed: date) -> Interval:
    """Days that the last meal lasts: longer after a big one, unless the keeper has said an interval.

    A big meal in slow months lasts as long as the longer of the two, not both on top of each other.
    """
    said = keepers_word(case, Care.FEED)
    if said is not None:
        return Interval(said.days, KEEPERS_SETTING)
    usual = _by_the_rule(case)
    times, slow = gap_factor(case.animal), _in_season(case, usual, last_fed)
    if times <= 1.0 or (filled := round(usual.days * times)) <= slow.days:
        return slow
    return Interval(filled, usual.basis, longer=True)


def wait_in_season(case: Case, days: int, since: date) -> int:
    """The days to another try, longer in slow months where the meals are."""
    if keepers_word(case, Care.FEED) is not None:
        return days
    return _in_season(case, Interval(days, GENERAL_RULE), since).days


def _by_the_rule(case: Case) -> Interval:
    animal = case.animal
    if animal.state.sac_since is not None:
        return Interval(practice.FEEDING_WITH_SAC.days, GENERAL_RULE)
    figure = practice.FEEDING_INTERVAL[animal.stage, animal.species.pace]
    return Interval(figure.days, SPECIES_FILE if animal.species.known else GENERAL_RULE)


def _in_season(case: Case, usual: Interval, since: date) -> Interval:
    """The interval as the slow months stretch it from a day on; with a sac it stays as it is."""
    months = case.facts.schedule.slow
    if months is None or case.animal.stage is Stage.SLING or case.animal.state.sac_since is not None:
        return usual
    days = slowed_days(usual.days, since, months)
    return usual if days == usual.days else replace(usual, days=days, slow=True)
