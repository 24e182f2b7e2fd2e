"""What a round asks for: the items of a day, and those of an open round as they stand by the journal now."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot.conversation.helper_words import how_to_water
from bot.conversation.people import keeper_of_shelf
from bot.conversation.round_state import as_needed, settled
from bot.conversation.round_words import OPEN, REST, Item, items_of
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.pictures.paper.helper_plan import helper_days
from bot.round.model import SpecimenFacts, Task, TaskKind
from bot.round.worklist import worklist
from storage.records import Occurrence


def items_now(turn: Turn, occurrence: Occurrence) -> list[Item]:
    """The items of a round as they stand by the journal now: what is not due any more is not asked for."""
    items = [dict(item) for item in occurrence.tasks]
    tags = list(dict.fromkeys(item["tag"] for item in items))
    turn.facts.fetch(tags)
    known = [facts for tag in tags if (facts := turn.facts.get(tag))]
    return as_needed(
        settled(items, turn.facts, occurrence.day, turn.settings), _items_for(turn, known, occurrence.day)
    )


def items_of_day(turn: Turn, day: date) -> list[Item]:
    """What is to be done on a day and who rests, for the keeper, or for a helper."""
    return _items_for(turn, turn.facts.all(), day)


def _items_for(turn: Turn, facts: Sequence[SpecimenFacts], day: date) -> list[Item]:
    if turn.helps:
        return helper_items(facts, day, keeper_of_shelf(turn))
    return items_of(worklist(facts, day), turn.settings)


def helper_items(facts: Sequence[SpecimenFacts], day: date, keeper: str) -> list[Item]:
    """The items of a helper's round: meals, water, and who is left alone."""
    (plan,) = helper_days(facts, day, day, day)
    known = {one.specimen.tag: one for one in facts}
    meals = [_meal(task) for task in plan.meals]
    water = [
        {"tag": tag, "task": TaskKind.WATER.value, "why": how_to_water(known[tag]), "key": "", "state": OPEN}
        for tag in plan.water
    ]
    left = [
        {
            "tag": one.tag,
            "task": REST,
            "why": say("handover.left") if one.reason else say("handover.left_closed", keeper=keeper),
            "state": REST,
        }
        for one in plan.left
    ]
    return [*meals, *water, *left]


def _meal(task: Task) -> Item:
    return {
        "tag": task.tag,
        "task": TaskKind.FEED.value,
        "why": "",
        "key": "",
        "state": OPEN,
        "prey": task.prey,
        "size": task.size,
        "count": task.count,
    }
