"""What a helper is to do on each day of a period: the round looked at ahead, made simple and safe. Pure.

It is taken that every meal and every water that falls due is given and that every meal is eaten. What
calls for a keeper's eye (fangs after a molt, an opened burrow, left prey, a new home) is never a helper's
task: such an animal is left alone, with water. Once it is left alone for that, it stays so to the end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bot.husbandry.state import advance
from bot.round.model import RestReason, SpecimenFacts, Task, TaskKind
from bot.round.rests import rest_of
from bot.round.worklist import is_kept, worklist
from bot.terms import Entry, Kind

_LOOKS = frozenset({TaskKind.CHECK, TaskKind.REMOVE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """An animal that gets no food on a day: at rest for a reason, or waiting for its keeper (``None``)."""

    tag: str
    reason: RestReason | None


@dataclass(frozen=True, slots=True, kw_only=True)
class HelperDay:
    """One day: meals with prey, size and number, tags to water, and who is left alone. Shelf order."""

    on: date
    meals: tuple[Task, ...]
    water: tuple[str, ...]
    left: tuple[Left, ...]


def helper_days(facts: Sequence[SpecimenFacts], today: date, first: date, last: date) -> list[HelperDay]:
    """The days from ``first`` to ``last``, looked at from ``today`` with the journal as it is now.

    Raises ``ValueError`` for a period that ends before it begins or begins before today.
    """
    if last < first:
        raise ValueError(f"the period ends on {last}, before it begins on {first}")
    if first < today:
        raise ValueError(f"the period begins on {first}, which is past: it is {today}")
    ahead = list(facts)
    waiting: set[str] = set()
    days = []
    for number in range((last - today).days + 1):
        day = today + timedelta(days=number)
        done = [_one_day(one, day, waiting, away=day >= first) for one in ahead if is_kept(one, day)]
        ahead = [one for one, _ in done]
        if day >= first:
            days.append(_joined(day, [part for _, part in done]))
    return days


def _one_day(
    facts: SpecimenFacts, day: date, waiting: set[str], *, away: bool
) -> tuple[SpecimenFacts, HelperDay]:
    """An animal's day, and the animal after it."""
    tag = facts.specimen.tag
    tasks = {task.task: task for task in worklist([facts], day).tasks}
    rest = rest_of(facts, day)
    if away and _LOOKS & tasks.keys():
        waiting.add(tag)
    meal = tasks.get(TaskKind.FEED) if tag not in waiting else None
    given = [Kind.FED] if meal else []
    given += [Kind.WATERED] if TaskKind.WATER in tasks else []
    state = facts.state
    for kind in given:
        state = advance(state, Entry(kind=kind, day=day, specimens=(tag,)))
    left = Left(tag=tag, reason=rest.reason if rest else None) if rest or tag in waiting else None
    return replace(facts, state=state), HelperDay(
        on=day,
        meals=(meal,) if meal else (),
        water=(tag,) if TaskKind.WATER in tasks else (),
        left=(left,) if left else (),
    )


def _joined(day: date, parts: Sequence[HelperDay]) -> HelperDay:
    return HelperDay(
        on=day,
        meals=tuple(meal for part in parts for meal in part.meals),
        water=tuple(tag for part in parts for tag in part.water),
        left=tuple(left for part in parts for left in part.left),
    )
