"""What comes next for an animal, told under what was just logged; and that it rests."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final

from bot.conversation import wording
from bot.conversation.people import keeper_of_shelf
from bot.conversation.reasons import rest_sentence
from bot.conversation.seals_told import others_took
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.absence_record import Absence, absence_noted
from bot.husbandry.ailment_record import sign_noted
from bot.husbandry.condition_record import Condition, condition_noted
from bot.husbandry.fang_record import fangs_noted
from bot.husbandry.practice import FEEDING_WITH_SAC
from bot.husbandry.water_places import are_told_apart
from bot.round.intervals import feeding_interval
from bot.round.model import NextUp, Rest, RestReason, SpecimenFacts, TaskKind
from bot.round.rests import Case
from bot.round.worklist import next_for, rest_of
from bot.terms import Entry, Kind, Specimen

#: So many are named of those who rest.
MOST_NAMES: Final = 6


def rest_line(turn: Turn, tag: str) -> str:
    """The sentence that an animal rests; empty where it does not."""
    facts = turn.facts.get(tag)
    rest = rest_of(facts, turn.today) if facts else None
    return rest_sentence(rest, turn.today, turn.settings) if rest else ""


def who_rests(turn: Turn, tags: Sequence[str], why: Callable[[Turn, str], str]) -> list[str]:
    """A line for each of the first few animals that are left in peace, by what ``why`` says of them."""
    return [
        say("remind.rests", who=turn.called(tag), why=rest)
        for tag in tags[:MOST_NAMES]
        if (rest := why(turn, tag))
    ]


def rest_cards(turn: Turn, tags: Sequence[str]) -> list[str]:
    """For each of the animals that rests a line with its name and why; those gone have none."""
    turn.facts.fetch(tags)
    rests = {tag: rest_line(turn, tag) for tag in tags if turn.facts.get(tag) is not None}
    return [say("answer.card", who=turn.called(tag), what=rest) for tag, rest in rests.items() if rest]


def rest_in_full(turn: Turn, rest: Rest, facts: SpecimenFacts) -> str:
    """The sentence that an animal rests; of one that is sealed with what other seals of its kind took."""
    sentence = rest_sentence(rest, turn.today, turn.settings)
    took = others_took(turn, facts) if rest.reason is RestReason.SEALED else ""
    return f"{sentence} {took}".rstrip()


def no_food_line(turn: Turn, tag: str) -> str:
    """Why an animal gets no food now: it rests, or a look comes first; empty where it may be fed."""
    facts = turn.facts.get(tag)
    if facts is None:
        return ""
    plan = next_for(facts, turn.today)
    if plan.rest is not None:
        return rest_in_full(turn, plan.rest, facts)
    looks_first = plan.feed_task is TaskKind.CHECK
    return meal_sentence(plan, turn.today) if looks_first else ""


def rest_on(turn: Turn, facts: SpecimenFacts, day: date) -> str:
    """The sentence that an animal rested on a day, by what was known before; empty where it did not.

    A sealed one is left out: a meal taken there is asked about. A helper is told who waits for the keeper.
    """
    rest, plan = rest_of(facts, day), next_for(facts, day)
    waits = rest is None and plan.feed_task is TaskKind.CHECK and plan.feed_on == day
    if waits and turn.helps:
        return wording.capital(say("handover.left_closed", keeper=keeper_of_shelf(turn))) + "."
    if rest is None or rest.since > day or rest.reason is RestReason.SEALED:
        return ""
    return rest_sentence(rest, turn.today, turn.settings)


def after(turn: Turn, entry: Entry, animal: Specimen) -> str:
    """One sentence on what comes next for one animal after this entry; empty where nothing does."""
    facts = turn.facts.get(animal.tag)
    if facts is None:
        return _gone(entry)
    sentence = _AFTER.get(entry.kind)
    return sentence(turn, entry, facts) if sentence else ""


def after_all(turn: Turn, entry: Entry, animals: Sequence[Specimen]) -> list[str]:
    """What comes next for several animals that share an entry: a range of days, and who of them rests."""
    known = [facts for animal in animals if (facts := turn.facts.get(animal.tag))]
    plans = [next_for(facts, turn.today) for facts in known]
    lines = []
    if entry.kind in _MEALS:
        meals = [plan.feed_on for plan in plans if plan.feed_on and plan.rest is None]
        lines += _range("meals", meals, turn.today)
    if entry.kind is Kind.WATERED:
        lines += _range("water", [plan.water_on for plan in plans], turn.today)
    if entry.kind in _MEALS | {Kind.CHECKED}:
        resting = [turn.called(plan.tag) for plan in plans if plan.rest is not None]
        if resting:
            lines.append(say("next.resting", names=wording.listed(resting, most=MOST_NAMES)))
    return lines


def _range(what: str, found: Sequence[date], today: date) -> list[str]:
    if not found:
        return []
    span = wording.span_of_days(min(found), max(found), today)
    return [say("next.meals", span=span) if what == "meals" else say("next.waters", span=span)]


def same_matter(entry: Entry, later: Entry) -> bool:
    """Whether what comes next after a later entry says all that it says after this one."""
    return _AFTER.get(entry.kind) is _AFTER.get(later.kind)


# --- one animal -----------------------------------------------------------------------------


def meal_sentence(plan: NextUp, today: date) -> str:
    """``Next meal about Thu 21 May.``, or the look before it; empty where no day can be told."""
    if plan.feed_on is None:
        return ""
    if plan.feed_on <= today:
        return say("next.look_now") if plan.feed_task is TaskKind.CHECK else say("next.meal_now")
    day = wording.about_day(plan.feed_on, today)
    if plan.feed_task is TaskKind.CHECK:
        return say("next.look", day=day)
    return say("next.meal", day=day)


def water_sentence(plan: NextUp, today: date) -> str:
    """``Next water about Sat 16 May.``, of the dish or the substrate where they are told apart."""
    if plan.water_on <= today:
        return say_of("next_water_now", plan.water_place.value)
    return say_of("next_water", plan.water_place.value, day=wording.about_day(plan.water_on, today))


def _rest_or_meal(turn: Turn, entry: Entry, facts: SpecimenFacts) -> str:
    plan = next_for(facts, turn.today)
    if plan.rest is not None and entry.kind is Kind.SEALED:
        return rest_in_full(turn, plan.rest, facts)
    if plan.rest is not None:
        return rest_sentence(plan.rest, turn.today, turn.settings)
    return meal_sentence(plan, turn.today)


def _offer(turn: Turn, _entry: Entry, facts: SpecimenFacts) -> str:
    rest = rest_of(facts, turn.today)
    if rest is None:
        return say("next.leftovers")
    sealed = rest.reason is RestReason.SEALED
    prey_out = say("next.prey_outside") if sealed else say("next.prey_out")
    return f"{rest_sentence(rest, turn.today, turn.settings)} {prey_out}"


def _water(turn: Turn, entry: Entry, facts: SpecimenFacts) -> str:
    """The next water; where dish and substrate are told apart, what a watering without a place counts as."""
    sentence = water_sentence(next_for(facts, turn.today), turn.today)
    if entry.how is None and are_told_apart(facts.state):
        return f"{say('next.both_places')} {sentence}"
    return sentence


def _note(turn: Turn, entry: Entry, facts: SpecimenFacts) -> str:
    """What a note counts as where it tells that an animal is out, back, not well, or how its abdomen is."""
    absence = absence_noted(entry.note)
    if facts.state.missing_since is not None and absence is Absence.MISSING:
        return say("next.missing")
    if absence is Absence.FOUND and facts.state.lot_size == 1:
        return say("next.found")
    if (sign := sign_noted(entry.note)) is not None:
        return say_of("signs", sign.value)
    if fangs_noted(entry.note) is not None and facts.state.fangs_on == entry.day:
        return _rest_or_meal(turn, entry, facts)
    return _condition(turn, entry, facts)


def _condition(turn: Turn, entry: Entry, facts: SpecimenFacts) -> str:
    """What a note of the abdomen counts as, and what follows from it; empty for other notes."""
    told = condition_noted(entry.note)
    if told is None or facts.state.condition_on != entry.day:
        return ""
    if told is not Condition.USUAL and feeding_interval(Case(facts, turn.today)).found is None:
        return say("next.thin_only") if told is Condition.THIN else ""
    counts = {
        Condition.THIN: say("next.thin"),
        Condition.PLUMP: say("next.plump"),
        Condition.FAT: say("next.fat"),
        Condition.USUAL: say("next.usual"),
    }
    return f"{counts[told]} {_rest_or_meal(turn, entry, facts)}".rstrip()


def _lot(_turn: Turn, entry: Entry, facts: SpecimenFacts) -> str:
    if not entry.count:
        return ""
    if entry.kind is Kind.DIED:
        return say("next.lot_lost", n=facts.state.lot_size)
    return say("next.lot_left", n=facts.state.lot_size)


def _sac(_turn: Turn, entry: Entry, _facts: SpecimenFacts) -> str:
    return say("next.sac", every=wording.days(FEEDING_WITH_SAC.days)) if entry.event == "laid" else ""


def _gone(entry: Entry) -> str:
    if entry.kind is Kind.DIED:
        return say("next.died")
    return say("next.left") if entry.kind is Kind.LEFT else ""


_MEALS: Final = frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED})
_AFTER: Final[dict[Kind, Callable[[Turn, Entry, SpecimenFacts], str]]] = {
    Kind.FED: _rest_or_meal,
    Kind.REFUSED: _rest_or_meal,
    Kind.OFFERED: _offer,
    Kind.MOLTED: _rest_or_meal,
    Kind.MATURED: _rest_or_meal,
    Kind.PREMOLT: _rest_or_meal,
    Kind.SEALED: _rest_or_meal,
    Kind.OPENED: _rest_or_meal,
    Kind.CHECKED: _rest_or_meal,
    Kind.REHOUSED: _rest_or_meal,
    Kind.WATERED: _water,
    Kind.DIED: _lot,
    Kind.LEFT: _lot,
    Kind.SAC: _sac,
    Kind.NOTE: _note,
}
