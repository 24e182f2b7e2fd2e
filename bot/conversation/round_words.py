"""The round in words: what to take out first, then place by place who gets what, and who rests.

A round is kept as a list of items: plain JSON, one for each task or rest, with its state. The text is
made from the items alone, so that it can be shown again whenever one is ticked off.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.reasons import reason, rest_sentence
from bot.conversation.texts import say, say_of
from bot.round.model import Task, TaskKind, Worklist
from bot.terms import KeeperSettings, Specimen

Item = dict[str, Any]

OPEN: Final = "open"
LATER: Final = "later"
DONE: Final = "done"
SKIPPED: Final = "skipped"
REFUSED: Final = "refused"
REST: Final = "rest"

_ORDER: Final = (TaskKind.REMOVE, TaskKind.CHECK, TaskKind.FEED, TaskKind.WATER, TaskKind.REHOUSE)


def items_of(work: Worklist, settings: KeeperSettings) -> list[Item]:
    """The items of a day's worklist, their reasons in words."""
    items = [_item(task, work.on, settings) for task in work.tasks]
    items += [
        {"tag": rest.tag, "task": REST, "why": rest_sentence(rest, work.on, settings), "state": REST}
        for rest in work.rests
    ]
    return items


def _item(task: Task, on: date, settings: KeeperSettings) -> Item:
    item: Item = {
        "tag": task.tag,
        "task": str(task.task),
        "why": reason(task.why, on, settings),
        "key": task.why.key,
        "state": OPEN,
    }
    if task.task is TaskKind.FEED:
        item |= {"prey": task.prey, "size": task.size, "count": task.count}
    return item


def is_open(item: Item) -> bool:
    """Whether an item is still to be done."""
    return item["state"] in (OPEN, LATER)


def round_text(
    items: Sequence[Item],
    animals: Mapping[str, Specimen],
    day: date,
    today: date,
    *,
    late: bool = False,
    brief: bool = False,
    again_at: time | None = None,
) -> str:
    """The whole round; ``brief``: what is left of it.

    ``late`` says at the top that it comes after its time. ``again_at`` is when what was put off comes back.
    """
    head = say("round.head", day=wording.date_of(day, today), what=_summary(items))
    lines = [say("round.late"), head] if late else [head]
    lines += _take_out(items)
    for place, there in _by_place(items, animals):
        told = _place_lines(there, animals, brief=brief)
        lines += ["", _heading(place, there, again_at), *told] if told else []
    resting = [] if brief else [item for item in items if item["task"] == REST]
    if resting:
        lines += ["", say("round.rests", n=len(resting))]
        lines += [say("round.line", who=_called(item, animals), what=item["why"]) for item in resting]
    return "\n".join(lines)


def _heading(place: str | None, there: Sequence[Item], again_at: time | None) -> str:
    name = place or say("round.no_place")
    waiting = [item for item in there if is_open(item)]
    if again_at is None or not waiting or any(item["state"] != LATER for item in waiting):
        return name
    return say("round.place_later", place=name, time=wording.clock(again_at))


def _summary(items: Sequence[Item]) -> str:
    counts = Counter(item["task"] for item in items if is_open(item))
    parts = [say_of("round.count", kind.value, n=counts[kind.value]) for kind in _ORDER if counts[kind.value]]
    return wording.listed(parts) or say("round.all_done")


def _take_out(items: Iterable[Item]) -> list[str]:
    """What to take from the fridge and the feeder box before starting."""
    prey: Counter[tuple[str, str]] = Counter()
    for item in items:
        if item["task"] == TaskKind.FEED and is_open(item) and item.get("prey"):
            prey[item["prey"], item["size"] or ""] += item["count"] or 1
    if not prey:
        return []
    amounts = [wording.meal(kind, n, size or None) for (kind, size), n in sorted(prey.items())]
    return [say("round.take_out", what=wording.listed(amounts))]


def _by_place(items: Iterable[Item], animals: Mapping[str, Specimen]) -> list[tuple[str | None, list[Item]]]:
    """The tasks place by place, in the order in which the shelf stands."""
    order = {tag: index for index, tag in enumerate(animals)}
    tasks = sorted(
        (item for item in items if item["task"] != REST), key=lambda item: order.get(item["tag"], len(order))
    )
    places: dict[str | None, list[Item]] = {}
    for item in tasks:
        animal = animals.get(item["tag"])
        places.setdefault(animal.place if animal else None, []).append(item)
    return list(places.items())


def places_of(items: Iterable[Item], animals: Mapping[str, Specimen]) -> list[str | None]:
    """The places at which something is still open, in order; ``None`` for animals without one."""
    return [place for place, there in _by_place(items, animals) if any(map(is_open, there))]


def _place_lines(there: Sequence[Item], animals: Mapping[str, Specimen], *, brief: bool) -> list[str]:
    lines: list[str] = []
    for task in _ORDER:
        waiting = [item for item in there if item["task"] == task and is_open(item)]
        lines += [say_of("round.task", task.value, what=line) for line in _task_lines(waiting, animals)]
    return lines if brief else lines + _ticked_lines(there, animals)


def _task_lines(items: Sequence[Item], animals: Mapping[str, Specimen]) -> list[str]:
    """One line for all animals of which the same is to be said."""
    alike: dict[tuple[str, str], list[Item]] = {}
    for item in items:
        alike.setdefault((_meal(item), item["why"]), []).append(item)
    return [_task_line(group, meal, why, animals) for (meal, why), group in alike.items()]


def _task_line(group: Sequence[Item], meal: str, why: str, animals: Mapping[str, Specimen]) -> str:
    names = ", ".join(_called(item, animals) for item in group)
    if not meal:
        return say("round.name_and_why", who=names, why=why) if why else names
    amount = say("meal.each", amount=meal) if len(group) > 1 else meal
    if not why:
        return say("round.feed_only", who=names, meal=amount)
    return say("round.feed", who=names, meal=amount, why=why)


def _meal(item: Item) -> str:
    if item["task"] != TaskKind.FEED:
        return ""
    return wording.meal(item.get("prey"), item.get("count"), item.get("size"))


def _ticked_lines(there: Sequence[Item], animals: Mapping[str, Specimen]) -> list[str]:
    """What is done, refused or skipped at a place."""
    lines = []
    for task in _ORDER:
        done = [item for item in there if item["task"] == task and item["state"] == DONE]
        if done:
            lines.append(say_of("round.done_as", task.value, names=_names(done, animals)))
    refused = [item for item in there if item["state"] == REFUSED]
    skipped = [item for item in there if item["state"] == SKIPPED]
    lines += [say("round.refused", names=_names(refused, animals))] if refused else []
    lines += [say("round.skipped_ones", names=_names(skipped, animals))] if skipped else []
    return lines


def _names(items: Sequence[Item], animals: Mapping[str, Specimen]) -> str:
    return ", ".join(dict.fromkeys(_called(item, animals) for item in items))


def _called(item: Item, animals: Mapping[str, Specimen]) -> str:
    animal = animals.get(item["tag"])
    return animal.called if animal else str(item["tag"])
