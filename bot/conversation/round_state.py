"""How far a round is done, by what the journal shows: nothing is ticked that is not on record. Pure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from typing import Final, Protocol

from bot.conversation.reasons import rest_sentence
from bot.conversation.round_words import DONE, LATER, OPEN, REFUSED, REST, SKIPPED, Item, is_open
from bot.husbandry.state import SpecimenState
from bot.husbandry.water_places import dampened, dish_filled
from bot.round.model import SpecimenFacts, TaskKind
from bot.round.worklist import rest_of
from bot.terms import KeeperSettings

#: Items about an offer whose outcome only the keeper knows: done once it is told.
OFFERS: Final = frozenset({"check_offer", "remove_offer", "remove_offer_soft"})

#: Looks of which the keeper has to say what was found: whether the fangs are black.
FANGS: Final = frozenset({"check_fangs", "check_opened"})


class Known(Protocol):
    """Where the facts of an animal are to be had."""

    def get(self, tag: str) -> SpecimenFacts | None:
        """The facts; ``None`` where it is not on the shelf any more."""


def settled(items: Sequence[Item], known: Known, day: date, settings: KeeperSettings) -> list[Item]:
    """The items as they stand now: done, refused or open by the facts; animals that are gone are left out."""
    found: list[Item] = []
    for item in items:
        facts = known.get(item["tag"])
        if facts is not None:
            found.append(_settled(item, facts, day, settings))
    return found


def as_needed(items: Sequence[Item], needed: Sequence[Item]) -> list[Item]:
    """The items of a round with what is open in them as it would be listed now, by ``needed``.

    What was answered stays. What is not due any more is left out, with what the same animal needs in its
    place, and so it is with what follows from a look; who rests is whoever rests now.
    """
    fresh = {(item["tag"], item["task"]): item for item in needed}
    found: list[Item] = []
    moved_on: set[str] = set()
    for item in items:
        now = fresh.get((item["tag"], item["task"]))
        if item["task"] == REST:
            continue
        if not is_open(item):
            found.append(now if now and _is_another_look(item, now) else item)
            moved_on |= {item["tag"]} if item["task"] == TaskKind.CHECK else set()
        elif now is not None:
            found.append(now | {"state": item["state"]})
        else:
            moved_on.add(item["tag"])
    listed = {(item["tag"], item["task"]) for item in found}
    instead = [one for key, one in fresh.items() if key not in listed and key[0] in moved_on]
    resting = [one for one in needed if one["task"] == REST and one not in instead]
    return [*found, *instead, *resting]


def _is_another_look(item: Item, now: Item) -> bool:
    """Whether a look was answered by what asks for another: a sealed one that opened."""
    return bool(item["task"] == TaskKind.CHECK and item.get("key") != now.get("key"))


def _settled(item: Item, facts: SpecimenFacts, day: date, settings: KeeperSettings) -> Item:
    if item["task"] == REST:
        return item
    rule = _BY_REASON.get(item.get("key", ""), _STATES[TaskKind(item["task"])])
    state = rule(facts.state, day)
    if state == OPEN and item["state"] in (LATER, SKIPPED):
        state = item["state"]
    if state in (OPEN, LATER) and item["task"] == TaskKind.FEED:
        rest = rest_of(facts, day)
        if rest is not None:
            why = rest_sentence(rest, day, settings)
            return {"tag": item["tag"], "task": REST, "why": why, "state": REST}
    return item | {"state": state}


def _fed(state: SpecimenState, day: date) -> str:
    if state.last_fed is not None and state.last_fed >= day:
        return DONE
    if state.open_offer is not None and state.open_offer >= day:
        return DONE
    return REFUSED if state.last_refused is not None and state.last_refused >= day else OPEN


def _since(*days: date | None) -> Callable[[date], str]:
    return lambda day: DONE if any(found is not None and found >= day for found in days) else OPEN


def _watered(state: SpecimenState, day: date) -> str:
    return _since(state.last_watered)(day)


def _dish(state: SpecimenState, day: date) -> str:
    return _since(dish_filled(state))(day)


def _substrate(state: SpecimenState, day: date) -> str:
    return _since(dampened(state))(day)


def _looked(state: SpecimenState, day: date) -> str:
    seen = (state.last_checked, state.last_fed, state.last_refused, state.last_molted, state.last_opened)
    return _since(*seen)(day)


def _fangs_seen(state: SpecimenState, day: date) -> str:
    """Only what was found ends such a look: no opening, and no look of which nothing was told."""
    return _since(state.fangs_on, state.last_fed, state.last_refused, state.last_molted)(day)


def _removed(state: SpecimenState, _day: date) -> str:
    return DONE if state.open_offer is None else OPEN


def _rehoused(state: SpecimenState, day: date) -> str:
    return _since(state.last_rehoused)(day)


#: Lines whose reason asks for more than their task says.
_BY_REASON: Final[dict[str, Callable[[SpecimenState, date], str]]] = {
    "water_dish": _dish,
    "water_substrate": _substrate,
    **dict.fromkeys(FANGS, _fangs_seen),
    **dict.fromkeys(OFFERS, _removed),
}
_STATES: Final[dict[TaskKind, Callable[[SpecimenState, date], str]]] = {
    TaskKind.FEED: _fed,
    TaskKind.WATER: _watered,
    TaskKind.CHECK: _looked,
    TaskKind.REMOVE: _removed,
    TaskKind.REHOUSE: _rehoused,
}
