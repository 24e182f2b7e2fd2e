"""How often: the keeper's word first, for the animal, its species, its stage or all; else by practice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from types import MappingProxyType
from typing import Final

from bot.husbandry import practice
from bot.husbandry.animal import GENERAL_RULE, KEEPERS_SETTING, OWN_RECORD, SPECIES_FILE
from bot.husbandry.condition import Condition, Found, condition_of
from bot.husbandry.feeding import gap_factor, slowed_days, usual_gap
from bot.husbandry.species import Pace
from bot.husbandry.water_places import WaterPlace
from bot.round.rests import Case
from bot.terms import Stage
from bot.terms.schedule import Care, Group, Said, Scope
from bot.terms.value_object import value_object

_FEED: Final = Care.FEED


@value_object()
class Interval:
    """Days from a taken meal to the next, and what they rest on.

    ``longer`` after a big meal, ``slow`` where the keeper's slow months make it longer, ``found`` where its
    condition makes it shorter or longer.
    """

    days: int
    basis: str
    longer: bool = False
    slow: bool = False
    found: Found | None = None


def keepers_word(case: Case, work: Care) -> Said | None:
    """How often the keeper wants it: said for the animal, else for a group that it is of now."""
    own = case.facts.own_interval(work)
    if own is not None:
        return Said(own, None)
    if not case.facts.schedule.every:
        return None
    return case.facts.schedule.said_for(work, case.animal.species_names, case.animal.stage)


def water_words(case: Case) -> Mapping[WaterPlace, Said]:
    """How often the keeper wants the dish filled and the substrate misted, where that is said for itself.

    A word of water as a whole that was said for fewer stands above it. What was said of dishes for a group is
    not meant for those that were only ever misted: they may have none.
    """
    if not _places_may_be_said(case):
        return _NO_WORDS
    whole = keepers_word(case, Care.WATER)
    found = {place: said for place, work in WORK_AT.items() if (said := keepers_word(case, work)) is not None}
    return {
        place: said
        for place, said in found.items()
        if not (whole is not None and whole.narrower_than(said))
        and not (place is WaterPlace.DISH and said.group is not None and _is_only_misted(case))
    }


#: The work by which each place gets water.
WORK_AT: Final = {WaterPlace.DISH: Care.DISH, WaterPlace.SUBSTRATE: Care.MIST}
_NO_WORDS: Final[Mapping[WaterPlace, Said]] = MappingProxyType({})


def _places_may_be_said(case: Case) -> bool:
    """Whether any word is in force at all, which it is on few shelves."""
    own = case.facts.dish_every is not None or case.facts.mist_every is not None
    every = case.facts.schedule.every
    return own or (bool(every) and any(work in (Care.DISH, Care.MIST) for work, _ in every))


def _is_only_misted(case: Case) -> bool:
    return case.state.last_dampened is not None and case.state.last_dish is None


def is_of(case: Case, group: Group) -> bool:
    """Whether an animal is of a group now."""
    if group.scope is Scope.SPECIES:
        return group.value in case.animal.species_names
    return group.scope is Scope.SHELF or case.animal.stage.value == group.value


def feeding_interval(case: Case, since: date | None = None) -> Interval:
    """Days from a meal on a day, or today, to the next: the keeper's, else by stage, pace and condition.

    Slow months make only the latter longer, and never for slings.
    """
    said = keepers_word(case, Care.FEED)
    if said is not None:
        return Interval(said.days, KEEPERS_SETTING)
    since = since or case.on
    return _in_season(case, _by_the_rule(case, since), since)


def gap_after_meal(case: Case, last_fed: date) -> Interval:
    """Days that the last meal lasts: longer after a big one, unless the keeper has said an interval.

    A big meal in slow months, or of a plump animal, lasts as long as the longer of the two, not both on top
    of each other.
    """
    said = keepers_word(case, _FEED)
    if said is not None:
        return Interval(said.days, KEEPERS_SETTING)
    usual = _by_the_rule(case, last_fed)
    times, slow = gap_factor(case.animal), _in_season(case, usual, last_fed)
    if times <= 1.0:
        return slow
    thin = usual.found is not None and usual.found.condition is Condition.THIN
    plain = usual if thin else _by_stage(case)
    if (filled := round(plain.days * times)) <= slow.days:
        return slow
    return Interval(filled, plain.basis, longer=True)


def wait_in_season(case: Case, days: int, since: date) -> int:
    """The days to another try, longer in slow months where the meals are."""
    if keepers_word(case, Care.FEED) is not None:
        return days
    return _in_season(case, Interval(days, GENERAL_RULE), since).days


def _by_the_rule(case: Case, since: date) -> Interval:
    if case.animal.state.sac_since is not None:
        return Interval(practice.FEEDING_WITH_SAC.days, GENERAL_RULE)
    found = condition_of(case.animal, since)
    if found is None:
        return _by_stage(case)
    return Interval(round(usual_gap(case.animal, found)), OWN_RECORD, found=found)


def _by_stage(case: Case) -> Interval:
    animal = case.animal
    return _of_stage(animal.stage, animal.species.pace, animal.species.known)


@cache
def _of_stage(stage: Stage, pace: Pace, is_known: bool) -> Interval:
    return Interval(practice.FEEDING_INTERVAL[stage, pace].days, SPECIES_FILE if is_known else GENERAL_RULE)


def _in_season(case: Case, usual: Interval, since: date) -> Interval:
    """The interval as the slow months stretch it from a day on; with a sac it stays as it is."""
    months = case.facts.schedule.slow
    if months is None or case.animal.stage is Stage.SLING or case.animal.state.sac_since is not None:
        return usual
    days = slowed_days(usual.days, since, months)
    return usual if days == usual.days else replace(usual, days=days, slow=True)
