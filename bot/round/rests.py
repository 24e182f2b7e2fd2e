"""Who rests, why, since when and until about when: while it lasts, nothing asks to feed it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from operator import attrgetter
from typing import Any, Final

from bot.husbandry import practice
from bot.husbandry.animal import GENERAL_RULE, KEEPERS_SETTING, OWN_RECORD, Animal
from bot.husbandry.state import SpecimenState
from bot.round.model import Rest, RestReason, SpecimenFacts
from bot.round.reasons import why
from bot.terms.kept import kept
from bot.terms.lengths import days_long


class Case:
    """One specimen on one day: the facts, the animal, and the days that several rules need."""

    def __init__(self, facts: SpecimenFacts, on: date) -> None:
        self.facts = facts
        self.on = on
        self.tag = facts.specimen.tag
        self.state: SpecimenState = facts.state
        self.animal = Animal(facts.specimen, facts.state)
        #: The first day for food after it was moved, while it has not eaten since.
        self.at_home_on = self._settled(self.state.last_rehoused, practice.SETTLING_AFTER_REHOUSING.days)
        #: The same after it arrived. An animal with a journal from before the day it was added was not new.
        self.arrival_over_on = self._settled(facts.arrived_on, practice.SETTLING_AFTER_ARRIVAL.days)
        molted = self.state.last_molted
        #: The first day for food after the last molt, whatever it has eaten since: a meal taken too soon
        #: brings the next one no nearer.
        self.first_meal_from = None if molted is None else molted + days_long(self.first_meal_wait)
        #: The same while it has not eaten since.
        self.hardened_on = None if self.state.eaten_since_molt else self.first_meal_from
        #: Molted so lately that the fangs may be soft.
        self.fresh = self.hardened_on is not None and on < self.hardened_on

    def since(self, day: date) -> int:
        """Days from a day to the day of the round."""
        return (self.on - day).days

    @property
    def first_meal_wait(self) -> int:
        """Days from its last molt to the first meal, by its span."""
        return practice.first_meal_wait(self.animal.span_cm)

    def surely_hardened(self, since: date) -> bool:
        """Whether a molt of that day, and soft fangs found since, are so long ago that no look is needed."""
        soft = None if self.state.fangs_black else self.state.fangs_on
        days = self.since(since if soft is None else max(since, soft))
        return days >= practice.FANGS_HARD_FOR_SURE.days

    def _settled(self, came: date | None, wait: int) -> date | None:
        fed = self.state.last_fed
        if came is None or (fed is not None and fed >= came):
            return None
        return came + days_long(wait)

    @property
    def held_until(self) -> date | None:
        """The end of a hold that has begun, where one was said."""
        since = self.facts.held_since
        return self.facts.held_until if since is not None and since <= self.on else None

    @kept
    def rest(self) -> Rest | None:
        """The rest it is in on that day."""
        found = [
            rest for begun, told in _RULES if begun(self) is not None and (rest := told(self)) is not None
        ]
        if not found:
            return None
        ends = [rest.expected_until for rest in found]
        last = None if None in ends else max(end for end in ends if end is not None)
        first = found[0]
        return Rest(tag=first.tag, reason=first.reason, since=first.since, expected_until=last, why=first.why)


def rest_of(facts: SpecimenFacts, on: date) -> Rest | None:
    """The rest a specimen is in on a day, or ``None``.

    Where several apply the gravest is told (missing before sealed before premolt before a fresh molt, then
    settling and holds), until the last of them ends.
    """
    return Case(facts, on).rest


def _lasting(reason: RestReason, begun: str, case: Case) -> Rest | None:
    """A rest that the journal has begun and not ended; ``begun`` is the field of the state that tells."""
    since: date | None = getattr(case.state, begun)
    if since is None:
        return None
    days = case.since(since)
    because = why(f"rest_{reason.value}", OWN_RECORD, **{begun: since}, days=days)
    return Rest(tag=case.tag, reason=reason, since=since, expected_until=None, why=because)


def _fresh(case: Case) -> Rest | None:
    molted = case.state.last_molted
    if molted is None or not case.fresh:
        return None
    return Rest(
        tag=case.tag,
        reason=RestReason.FRESH_MOLT,
        since=molted,
        expected_until=case.hardened_on,
        why=why(
            "rest_fresh", GENERAL_RULE, molted_on=molted, days=case.since(molted), wait=case.first_meal_wait
        ),
    )


def _rehoused(case: Case) -> Rest | None:
    moved, until = case.state.last_rehoused, case.at_home_on
    if moved is None or until is None or case.on >= until:
        return None
    wait = practice.SETTLING_AFTER_REHOUSING.days
    return Rest(
        tag=case.tag,
        reason=RestReason.SETTLING,
        since=moved,
        expected_until=until,
        why=why("rest_rehoused", GENERAL_RULE, rehoused_on=moved, days=case.since(moved), wait=wait),
    )


def _arrived(case: Case) -> Rest | None:
    added, until = case.facts.arrived_on, case.arrival_over_on
    if added is None or until is None or case.on >= until:
        return None
    wait = practice.SETTLING_AFTER_ARRIVAL.days
    return Rest(
        tag=case.tag,
        reason=RestReason.SETTLING,
        since=added,
        expected_until=until,
        why=why("rest_arrived", GENERAL_RULE, added_on=added, days=case.since(added), wait=wait),
    )


def _held(case: Case) -> Rest | None:
    since, until = case.facts.held_since, case.facts.held_until
    if since is None or since > case.on or (until is not None and case.on >= until):
        return None
    days = case.since(since)
    return Rest(
        tag=case.tag,
        reason=RestReason.HELD,
        since=since,
        expected_until=until,
        why=why("rest_held", KEEPERS_SETTING, held_since=since, days=days)
        if until is None
        else why("rest_held_until", KEEPERS_SETTING, held_since=since, days=days, until=until),
    )


#: What there has to be for a rest, which is quick to ask, and the rest then.
_RULES: Final[tuple[tuple[Callable[[Case], Any], Callable[[Case], Rest | None]], ...]] = (
    (attrgetter("state.missing_since"), partial(_lasting, RestReason.MISSING, "missing_since")),
    (attrgetter("state.sealed_since"), partial(_lasting, RestReason.SEALED, "sealed_since")),
    (attrgetter("state.premolt_since"), partial(_lasting, RestReason.PREMOLT, "premolt_since")),
    (attrgetter("hardened_on"), _fresh),
    (attrgetter("at_home_on"), _rehoused),
    (attrgetter("arrival_over_on"), _arrived),
    (attrgetter("facts.held_since"), _held),
)
